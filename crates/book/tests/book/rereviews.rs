//! All open orders are reviewed again after a change of the catalog.

use std::future::{Ready, ready};
use std::sync::Mutex;
use std::sync::atomic::{AtomicI64, Ordering};

use book::{Judgement, MarkedCatalog, MoveRequest, Person, Role, State};

use crate::backups::stricter;
use crate::both::{at, catalog, customer, demo, desk, on_both, owner, place_sound, reviewed};

/// A run that has to give way to nobody.
pub(crate) fn no_hurry() -> Ready<()> {
    ready(())
}

#[test]
fn a_change_of_the_catalog_shows_which_verdicts_it_changes() {
    on_both(async |bench| {
        let book = bench.book().await;
        for number in 1..=25 {
            place_sound(&book, &format!("Q-{number:04}")).await;
        }
        // A closed order is left as it was closed.
        let request = MoveRequest { seen_revision: 1, from: State::Received, to: State::Closed, reason: Some("sold") };
        book.move_order(3, request, &desk(), at(2)).await.unwrap();
        assert_eq!(book.waiting_for_rereview(catalog()).await.unwrap(), 0);

        let strict = MarkedCatalog::new(stricter());
        assert_eq!(book.waiting_for_rereview(&strict).await.unwrap(), 24);
        let heard = Mutex::new(Vec::new());
        let run = book
            .rereview(&strict, &owner(), || at(30), |done, of| heard.lock().unwrap().push((done, of)), no_hurry)
            .await
            .unwrap();
        assert_eq!((run.orders, run.done, run.finished_at), (24, 24, Some(at(30))));
        assert_eq!(*heard.lock().unwrap(), [(20, 24), (24, 24)]);
        let changes = book.rereview_changes(run.number).await.unwrap();
        assert_eq!(changes.len(), 24);
        assert_eq!(
            (changes[0].reference.as_str(), changes[0].was, changes[0].becomes),
            ("Q-0001", Judgement::Cut, Judgement::Ask)
        );
        assert!(changes[0].why.contains("the shop cuts from"), "{}", changes[0].why);
        assert!(changes.iter().all(|change| change.order != 3));
        assert_eq!(book.order(3).await.unwrap().line.judgement, Judgement::Cut);
        assert_eq!(book.order(4).await.unwrap().line.judgement, Judgement::Ask);
        assert_eq!(book.events(4).await.unwrap()[1].body["verdict"], "ask");
        assert_eq!(book.waiting_for_rereview(&strict).await.unwrap(), 0);
        assert_eq!(book.rereviews(5).await.unwrap(), [run]);
        assert!(book.check(None).await.unwrap().is_sound());
        let floor = Person::new("Jory", Role::Floor);
        assert!(book.rereview(catalog(), &floor, || at(31), |_, _| {}, no_hurry).await.is_err());
    });
}

#[test]
fn a_sheet_that_can_no_longer_be_read_is_found_and_cannot_be_approved() {
    on_both(async |bench| {
        let book = bench.book().await;
        place_sound(&book, "Q-0101").await;
        let mut without = catalog::Catalog::shipped().unwrap();
        without.brakes.clear();
        let run = book.rereview(&MarkedCatalog::new(without), &owner(), || at(3), |_, _| {}, no_hurry).await.unwrap();
        let changes = book.rereview_changes(run.number).await.unwrap();
        assert_eq!(changes[0].becomes, Judgement::Unreadable);
        let request = MoveRequest { seen_revision: 1, from: State::Received, to: State::Approved, reason: Some("so") };
        let refused = book.move_order(1, request, &desk(), at(4)).await.unwrap_err().to_string();
        assert!(refused.contains("its sheet can no longer be read with the catalog"), "{refused}");
    });
}

/// While a run is between two batches somebody revises an order of the next one; the run must not write an old review over it.
#[test]
fn what_is_revised_meanwhile_keeps_its_own_review() {
    on_both(async |bench| {
        let book = bench.book().await;
        for number in 1..=21 {
            place_sound(&book, &format!("Q-{number:04}")).await;
        }
        let strict = MarkedCatalog::new(stricter());
        let thinner = reviewed(&demo("01-hay-truck").replace("Q-0101", "Q-0021").replace("\"0.421\"", "\"0.425\""));
        let reviser = book.clone();
        let runtime = tokio::runtime::Handle::current();
        let waiting = Mutex::new(None);
        let run = book
            .rereview(
                &strict,
                &owner(),
                || at(3),
                |done, _| {
                    if done == 20 {
                        let (reviser, sheet) = (reviser.clone(), thinner.clone());
                        let revised = async move {
                            reviser.revise(21, 1, &sheet, &customer(), "meanwhile", &desk(), at(3)).await.unwrap()
                        };
                        *waiting.lock().unwrap() = Some(runtime.spawn(revised));
                    }
                },
                no_hurry,
            )
            .await
            .unwrap();
        let task = waiting.lock().unwrap().take().unwrap();
        task.await.unwrap();
        assert!(run.finished_at.is_some());
        // Whichever was first, the review that stands is one of the second revision, and the book knows with which catalog.
        let order = book.order(21).await.unwrap();
        assert_eq!(order.line.revision, 2);
        if order.line.catalog_mark == strict.mark() {
            assert_eq!(order.line.judgement, Judgement::Ask);
        } else {
            assert_eq!((order.line.judgement, order.line.catalog_mark.as_str()), (Judgement::Cut, catalog().mark()));
            assert_eq!(book.waiting_for_rereview(&strict).await.unwrap(), 1);
        }
        assert!(book.check(None).await.unwrap().is_sound());
    });
}

/// Whoever asks for a run is asked before each order and before each write, and what they do meanwhile goes first.
#[test]
fn a_run_gives_way_before_each_order() {
    on_both(async |bench| {
        let book = bench.book().await;
        for number in 1..=21 {
            place_sound(&book, &format!("Q-{number:04}")).await;
        }
        let strict = MarkedCatalog::new(stricter());
        let asked = AtomicI64::new(0);
        let run = book
            .rereview(
                &strict,
                &owner(),
                || at(3),
                |_, _| {},
                || {
                    let before = asked.fetch_add(1, Ordering::Relaxed);
                    let more_urgent = book.clone();
                    async move {
                        // At the third order of the first batch somebody else writes, and does not wait for the run.
                        if before == 2 {
                            let request = MoveRequest {
                                seen_revision: 1,
                                from: State::Received,
                                to: State::Closed,
                                reason: Some("sold"),
                            };
                            more_urgent.move_order(2, request, &desk(), at(2)).await.unwrap();
                        }
                    }
                },
            )
            .await
            .unwrap();
        assert_eq!(run.done, 21);
        // 20 orders and a write, one order and a write.
        assert_eq!(asked.load(Ordering::Relaxed), 23);
        // What is closed meanwhile is left as it was closed.
        let closed = book.order(2).await.unwrap().line;
        assert_eq!((closed.state, closed.judgement), (State::Closed, Judgement::Cut));
        assert_eq!(closed.catalog_mark, catalog().mark());
        assert_eq!(book.waiting_for_rereview(&strict).await.unwrap(), 0);
        assert!(book.check(None).await.unwrap().is_sound());
    });
}
