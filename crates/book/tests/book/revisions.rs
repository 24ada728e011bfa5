//! Orders come in and change; nothing is overwritten, and nobody overwrites what they have not seen.

use book::{Book, BookError, Direction, EventKind, Judgement, MoveRequest, Person, ReadingChange, Role, State};

use crate::both::{at, customer, demo, desk, on_both, place_sound, reviewed, sound};

#[test]
fn an_order_comes_back_as_it_was_taken_in() {
    on_both(async |bench| {
        let book = bench.book().await;
        assert_eq!(book.engine(), bench.engine);
        let sheet = sound("Q-0101");
        let placed = book.place(&sheet, &customer(), &desk(), at(1)).await.unwrap();
        book.close().await;

        let book = bench.book().await;
        let order = book.order(placed.number).await.unwrap();
        assert_eq!(order.line, placed);
        assert_eq!(order.sheet, sheet.text);
        assert_eq!(order.line.details, customer());
        assert_eq!(order.line.state, State::Received);
        assert_eq!(order.line.judgement, Judgement::from(sheet.review.verdict));
        assert_eq!(order.line.fit, sheet.review.fit_probability.map(|fit| fit.value));
        assert_eq!((order.line.placed_at, order.line.placed_by.as_str()), (at(1), "Wenna Tarrow"));
        assert_eq!(book.order_by_reference(" q 0101").await.unwrap(), order);
        assert!(matches!(book.order(99).await, Err(BookError::NotFound { .. })));
    });
}

#[test]
fn a_reference_is_given_once() {
    on_both(async |bench| {
        let book = bench.book().await;
        place_sound(&book, "Q-0101").await;
        let refused = book.place(&sound("q0101"), &customer(), &desk(), at(2)).await.unwrap_err().to_string();
        assert!(refused.contains("the reference q0101 is taken by order 1 (Tamsin Müller)"), "{refused}");
        assert!(refused.contains("accepted: a reference that no other order has"), "{refused}");
        // The number of the order that was refused is not lost, since its transaction left no trace.
        assert_eq!(place_sound(&book, "Q-0102").await.number, 2);
    });
}

#[test]
fn every_value_of_every_reading_stays_with_who_when_and_why() {
    on_both(async |bench| {
        let book = bench.book().await;
        let first = place_sound(&book, "Q-0101").await;
        let thinner = reviewed(&demo("01-hay-truck").replace("\"0.421\"", "{ value = \"0.425\", by = \"fitter\" }"));
        let second = book
            .revise(first.number, 1, &thinner, &customer(), "read again with a clean flange", &desk(), at(5))
            .await
            .unwrap();
        assert_eq!(second.revision, 2);
        let without = reviewed(&thinner.text.replace("trapped_thickness     = \"0.102\"\n", ""));
        book.revise(first.number, 2, &without, &customer(), "the plate was bent", &desk(), at(9)).await.unwrap();

        let history = book.reading_history(first.number).await.unwrap();
        let of = |measurand: &str| -> Vec<ReadingChange> {
            history.iter().filter(|one| one.measurand == measurand).cloned().collect()
        };
        let flange = of("flange_thickness");
        assert_eq!(flange.len(), 2);
        assert_eq!((flange[0].was.as_deref(), flange[0].becomes.as_deref()), (None, Some("0.421 in")));
        assert_eq!(
            (flange[1].was.as_deref(), flange[1].becomes.as_deref()),
            (Some("0.421 in"), Some("0.425 in, by fitter"))
        );
        assert_eq!((flange[1].who.as_str(), flange[1].at), ("Wenna Tarrow", at(5)));
        assert_eq!(flange[1].reason, "read again with a clean flange");
        let trapped = of("trapped_thickness");
        assert_eq!((trapped[1].was.as_deref(), trapped[1].becomes.as_deref()), (Some("0.102 in"), None));
        assert_eq!(trapped[1].revision, 3);
        // Two readings of one thing on one side are two.
        assert_eq!(of("overall_length").iter().filter(|one| one.side == "left").count(), 2);
        // Whatever did not change was not written again.
        assert_eq!(history.iter().filter(|one| one.revision == 2).count(), 1);

        let revisions = book.revisions(first.number).await.unwrap();
        assert_eq!(revisions.iter().map(|one| (one.revision, one.base)).collect::<Vec<_>>(), [(1, 0), (2, 1), (3, 2)]);
        assert_eq!(revisions[1].sheet, thinner.text);
        assert_eq!(book.revision(first.number, 3).await.unwrap(), revisions[2]);
        assert_eq!(book.order(first.number).await.unwrap().sheet, without.text);
    });
}

#[test]
fn two_people_on_one_order_never_overwrite_unseen() {
    on_both(async |bench| {
        let book = bench.book().await;
        let number = place_sound(&book, "Q-0101").await.number;
        let thinner = reviewed(&demo("01-hay-truck").replace("\"0.421\"", "\"0.425\""));
        let thicker = reviewed(&demo("01-hay-truck").replace("\"0.421\"", "\"0.431\""));
        let other = Person::new("Piran Leat", Role::Desk);
        book.revise(number, 1, &thinner, &customer(), "read again", &other, at(5)).await.unwrap();

        let overtaken = book.revise(number, 1, &thicker, &customer(), "read again", &desk(), at(6)).await.unwrap_err();
        let BookError::Overtaken { seen, now, by, .. } = &overtaken else { panic!("{overtaken}") };
        assert_eq!((*seen, *now, by.as_str()), (1, 2, "Piran Leat"));
        let request = MoveRequest { seen_revision: 1, from: State::Received, to: State::Questioned, reason: None };
        let overtaken = book.move_order(number, request, &desk(), at(7)).await.unwrap_err();
        assert!(matches!(overtaken, BookError::Overtaken { .. }), "{overtaken}");
        assert_eq!(book.order(number).await.unwrap().sheet, thinner.text);
        assert_eq!(book.revisions(number).await.unwrap().len(), 2);
    });
}

/// Ten desks with connections of their own all build on the revision that they see; each must win once, and none may be lost.
#[test]
fn desks_that_write_at_once_all_get_in_and_lose_nothing() {
    on_both(async |bench| {
        let book = bench.book().await;
        let number = place_sound(&book, "Q-0101").await.number;
        let mut desks = Vec::new();
        for desk_number in 0..10 {
            let place = bench.place.clone();
            let sheet = reviewed(&demo("01-hay-truck").replace("\"0.421\"", &format!("\"0.43{desk_number}\"")));
            desks.push(async move {
                let book = Book::open(&place, at(0)).await.unwrap();
                let who = Person::new(&format!("desk {desk_number}"), Role::Desk);
                let mut overtaken = 0;
                loop {
                    let seen = book.order(number).await.unwrap().line.revision;
                    match book.revise(number, seen, &sheet, &customer(), "at once", &who, at(5)).await {
                        Ok(_) => return overtaken,
                        Err(BookError::Overtaken { .. }) => overtaken += 1,
                        Err(other) => panic!("{other}"),
                    }
                }
            });
        }
        let runtime = tokio::runtime::Handle::current();
        let handles: Vec<_> = desks.into_iter().map(|desk| runtime.spawn(desk)).collect();
        for handle in handles {
            handle.await.unwrap();
        }
        let revisions = book.revisions(number).await.unwrap();
        assert_eq!(revisions.len(), 11);
        let mut authors: Vec<&str> = revisions[1..].iter().map(|one| one.who.as_str()).collect();
        authors.sort_unstable();
        authors.dedup();
        assert_eq!(authors.len(), 10);
        assert!(book.check(None).await.unwrap().is_sound());
    });
}

#[test]
fn a_change_without_a_reason_or_without_a_change_is_refused() {
    on_both(async |bench| {
        let book = bench.book().await;
        let number = place_sound(&book, "Q-0101").await.number;
        let same = sound("Q-0101");
        let refused = book.revise(number, 1, &same, &customer(), "why not", &desk(), at(2)).await.unwrap_err();
        assert!(refused.to_string().contains("nothing was changed"), "{refused}");
        let other = sound("Q-0109");
        let refused = book.revise(number, 1, &other, &customer(), "  ", &desk(), at(2)).await.unwrap_err();
        assert!(refused.to_string().contains("accepted: a few words that say why"), "{refused}");
        assert_eq!(
            book.revise(number, 1, &other, &customer(), "renamed", &desk(), at(2)).await.unwrap().reference,
            "Q-0109"
        );
    });
}

#[test]
fn a_guest_may_place_and_add_but_not_decide() {
    on_both(async |bench| {
        let book = bench.book().await;
        let guest = Person::guest("Tamsin Müller");
        let number = book.place(&sound("Q-0101"), &customer(), &guest, at(1)).await.unwrap().number;
        let thinner = reviewed(&demo("01-hay-truck").replace("\"0.421\"", "\"0.425\""));
        book.revise(number, 1, &thinner, &customer(), "measured again", &guest, at(2)).await.unwrap();
        book.write_message(number, Direction::FromCustomer, "It was rusty.", &guest, at(3)).await.unwrap();
        let refused = book.write_message(number, Direction::Note, "hm", &guest, at(3)).await.unwrap_err();
        assert!(matches!(refused, BookError::NotAllowed { .. }), "{refused}");
        let request =
            MoveRequest { seen_revision: 2, from: State::Received, to: State::Approved, reason: Some("please") };
        let refused = book.move_order(number, request, &guest, at(4)).await.unwrap_err();
        assert!(refused.to_string().contains("Tamsin Müller (guest) may not move an order"), "{refused}");
        let looker = Person::new("Looker", Role::ReadOnly);
        assert!(book.place(&sound("Q-0102"), &customer(), &looker, at(1)).await.is_err());
    });
}

#[test]
fn the_log_tells_the_whole_story() {
    on_both(async |bench| {
        let book = bench.book().await;
        let number = place_sound(&book, "Q-0101").await.number;
        book.write_message(number, Direction::ToCustomer, " Is the drum new? ", &desk(), at(2)).await.unwrap();
        let request = MoveRequest { seen_revision: 1, from: State::Received, to: State::Questioned, reason: None };
        book.move_order(number, request, &desk(), at(3)).await.unwrap();
        let events = book.events(number).await.unwrap();
        let kinds: Vec<EventKind> = events.iter().map(|event| event.kind).collect();
        assert_eq!(kinds, [EventKind::Placed, EventKind::Message, EventKind::Moved]);
        assert_eq!((events[2].at, events[2].who.as_str()), (at(3), "Wenna Tarrow"));
        assert_eq!(events[2].body["to"], "questioned");
        assert_eq!(book.latest_events(1).await.unwrap(), [events[2].clone()]);
        let messages = book.messages(number).await.unwrap();
        assert_eq!((messages[0].words.as_str(), messages[0].direction), ("Is the drum new?", Direction::ToCustomer));
    });
}
