//! Drafts and saved views.

use book::{Judgement, ListRequest, SavedView, Sort, State};

use crate::both::{at, on_both};

#[test]
fn what_was_typed_is_there_again_until_it_is_dropped() {
    on_both(async |bench| {
        let book = bench.book().await;
        let account = book.make_owner("Morwen Ostrey", "weir yard at dawn", at(0)).await.unwrap().number;
        book.keep_draft(account, "order 1", "shoulder 2.1", 3, at(1)).await.unwrap();
        book.keep_draft(account, "order 1", "shoulder 2.17", 3, at(2)).await.unwrap();
        book.keep_draft(account, "new order", "Q-", 0, at(3)).await.unwrap();
        book.close().await;

        let book = bench.book().await;
        let draft = book.draft(account, "order 1").await.unwrap().unwrap();
        assert_eq!((draft.words.as_str(), draft.base, draft.saved_at), ("shoulder 2.17", 3, at(2)));
        let topics: Vec<String> = book.drafts(account).await.unwrap().into_iter().map(|one| one.topic).collect();
        assert_eq!(topics, ["new order", "order 1"]);
        book.drop_draft(account, "order 1").await.unwrap();
        assert_eq!(book.draft(account, "order 1").await.unwrap(), None);
        assert!(book.keep_draft(account, "x", &"a".repeat(500_000), 0, at(4)).await.is_err());
    });
}

#[test]
fn a_view_comes_back_as_it_was_kept() {
    on_both(async |bench| {
        let book = bench.book().await;
        let account = book.make_owner("Morwen Ostrey", "weir yard at dawn", at(0)).await.unwrap().number;
        let request = ListRequest {
            search: "drum \"10\"".to_owned(),
            states: vec![State::Received, State::InWork],
            judgements: vec![Judgement::Ask],
            sort: Sort::LastChanged,
            after: None,
            at_most: 20,
        };
        let view = SavedView { name: "to be asked".to_owned(), request };
        book.keep_view(account, &SavedView { request: ListRequest::default(), ..view.clone() }).await.unwrap();
        book.keep_view(account, &view).await.unwrap();
        assert_eq!(book.views(account).await.unwrap(), [view]);
        book.drop_view(account, "to be asked").await.unwrap();
        assert_eq!(book.views(account).await.unwrap(), []);
        let nameless = SavedView { name: " ".to_owned(), request: ListRequest::default() };
        assert!(book.keep_view(account, &nameless).await.is_err());
    });
}
