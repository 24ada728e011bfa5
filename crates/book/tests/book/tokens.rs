//! Tokens of other programs.

use book::{BookError, EventKind, Person, Role, SavedView};

use crate::both::{at, by_hand, on_both, owner};

#[test]
fn a_token_works_until_it_is_revoked() {
    on_both(async |bench| {
        let book = bench.book().await;
        let (made, secret) = book.make_token(" accounts ", Role::Desk, &owner(), at(1)).await.unwrap();
        assert!(secret.starts_with("axle_") && secret.len() == 5 + 64, "{secret}");
        assert_eq!((made.name.as_str(), made.role, made.used_on), ("accounts", Role::Desk, None));
        assert_eq!(made.person(), Person::new("accounts (program)", Role::Desk));

        let found = book.token(&secret, at(2)).await.unwrap().unwrap();
        assert_eq!(found.used_on, Some(jiff::civil::date(2026, 3, 2)));
        assert_eq!(book.token("axle_0", at(2)).await.unwrap(), None);
        let later = book.token(&secret, at(2 + 24 * 60)).await.unwrap().unwrap();
        assert_eq!(later.used_on, Some(jiff::civil::date(2026, 3, 3)));
        assert_eq!(book.tokens(&owner()).await.unwrap(), [later]);

        book.revoke_token(made.number, &owner(), at(3)).await.unwrap();
        assert_eq!(book.token(&secret, at(4)).await.unwrap(), None);
        assert!(book.revoke_token(made.number, &owner(), at(5)).await.is_err());
        assert_eq!(book.tokens(&owner()).await.unwrap()[0].revoked_at, Some(at(3)));
        // The name is free again; the old token stays worth nothing.
        let (_, second) = book.make_token("accounts", Role::Desk, &owner(), at(6)).await.unwrap();
        assert_ne!(second, secret);
        assert_eq!(book.token(&secret, at(7)).await.unwrap(), None);

        let events = book.latest_events(10).await.unwrap();
        let kinds: Vec<EventKind> = events.iter().map(|event| event.kind).collect();
        assert_eq!(kinds, [EventKind::TokenMade, EventKind::TokenRevoked, EventKind::TokenMade]);
        assert!(events.iter().all(|event| !event.body.to_string().contains("axle_")));
        assert!(book.check(None).await.unwrap().is_sound());
    });
}

#[test]
fn only_the_owner_makes_tokens_and_none_is_an_owner() {
    on_both(async |bench| {
        let book = bench.book().await;
        let desk = Person::new("Wenna Tarrow", Role::Desk);
        let made = book.make_token("accounts", Role::ReadOnly, &desk, at(1)).await;
        assert!(matches!(made, Err(BookError::NotAllowed { .. })));
        assert!(matches!(book.tokens(&desk).await, Err(BookError::NotAllowed { .. })));
        let refused = book.make_token("accounts", Role::Owner, &owner(), at(1)).await.unwrap_err().to_string();
        assert!(refused.contains("accepted: the role desk, floor or read-only"), "{refused}");
        for name in ["", "  ", "accounts (program)", "a\nb"] {
            assert!(book.make_token(name, Role::Desk, &owner(), at(1)).await.is_err(), "{name:?}");
        }
        book.make_token("accounts", Role::Desk, &owner(), at(1)).await.unwrap();
        let taken = book.make_token("ACCOUNTS", Role::Desk, &owner(), at(1)).await.unwrap_err().to_string();
        assert!(taken.contains("there is a token ACCOUNTS already"), "{taken}");
        // No account can pass for a program, and a program keeps nothing of an account's.
        assert!(book.make_owner("accounts (Program)", "weir yard at dawn", at(2)).await.is_err());
        let view = SavedView { name: "all".to_owned(), request: book::ListRequest::default() };
        let refused = book.keep_view(0, &view).await.unwrap_err().to_string();
        assert!(refused.contains("only an account keeps drafts and views"), "{refused}");
        assert!(book.keep_draft(0, "order 1", "x", 1, at(3)).await.is_err());
    });
}

#[test]
fn the_book_never_holds_a_token_itself() {
    on_both(async |bench| {
        let book = bench.book().await;
        let (_, secret) = book.make_token("accounts", Role::Desk, &owner(), at(1)).await.unwrap();
        let backup = bench.folder.path().join("book.backup");
        book.backup(&backup, at(2)).await.unwrap();
        let place = bench.other_place().await;
        // A restored book knows the same tokens, since it holds their digests.
        let (restored, _) = book::Book::restore(&backup, &place, &owner(), at(3)).await.unwrap();
        assert!(restored.token(&secret, at(4)).await.unwrap().is_some());
        // What stands in the column is no token: sending it opens nothing.
        by_hand(&place, "UPDATE token SET name = token_digest").await;
        let digest = restored.tokens(&owner()).await.unwrap().remove(0).name;
        assert_ne!(digest, secret);
        assert!(restored.token(&digest, at(5)).await.unwrap().is_none());
    });
}
