//! Orders move from state to state, and only where the table of moves lets them.

use book::{Book, BookError, Judgement, MOVES, MoveRequest, Need, OrderLine, Person, Role, State};

use crate::backups::records;
use crate::backups::stricter;
use crate::both::{at, customer, demo, desk, floor, on_both, owner, place_sound, reviewed, with_verdict};

async fn go(
    book: &Book,
    line: &OrderLine,
    to: State,
    reason: Option<&str>,
    who: &Person,
) -> Result<OrderLine, BookError> {
    let request = MoveRequest { seen_revision: line.revision, from: line.state, to, reason };
    book.move_order(line.number, request, who, at(10)).await
}

#[test]
fn an_order_goes_through_the_shop() {
    on_both(async |bench| {
        let book = bench.book().await;
        let line = place_sound(&book, "Q-0101").await;
        assert_eq!(line.judgement, Judgement::Cut, "{:?}", line.doubt);
        let line = go(&book, &line, State::Approved, None, &desk()).await.unwrap();
        assert_eq!((line.approved_revision, line.overruled.clone()), (Some(1), None));
        let line = go(&book, &line, State::InWork, None, &floor()).await.unwrap();
        let line = go(&book, &line, State::Inspected, Some("measured on paper"), &floor()).await.unwrap();
        let refused = go(&book, &line, State::Shipped, None, &floor()).await.unwrap_err().to_string();
        assert!(refused.contains("accepted: somebody with the role owner or desk"), "{refused}");
        let line = go(&book, &line, State::Shipped, None, &desk()).await.unwrap();
        let line = go(&book, &line, State::Closed, None, &desk()).await.unwrap();
        assert_eq!(line.approved_revision, Some(1));
        let line = go(&book, &line, State::Remade, Some("the lock ring walked"), &owner()).await.unwrap();
        assert_eq!((line.state, line.approved_revision), (State::Remade, None));
        go(&book, &line, State::Approved, None, &owner()).await.unwrap();
        assert!(book.check(None).await.unwrap().is_sound());
    });
}

#[test]
fn what_the_table_does_not_hold_is_refused() {
    on_both(async |bench| {
        let book = bench.book().await;
        let line = place_sound(&book, "Q-0101").await;
        for to in State::ALL {
            if MOVES.iter().any(|one| one.from == State::Received && one.to == to) {
                continue;
            }
            let refused = go(&book, &line, to, Some("because"), &owner()).await.unwrap_err().to_string();
            assert!(refused.contains("accepted: questioned, approved to cut, closed"), "{refused}");
        }
        assert_eq!(book.order(line.number).await.unwrap().line, line);
    });
}

#[test]
fn ask_is_overruled_with_a_reason_and_stop_never() {
    on_both(async |bench| {
        let book = bench.book().await;
        let ask = with_verdict(axle::Verdict::Ask);
        let line = book.place(&ask, &customer(), &desk(), at(1)).await.unwrap();
        let refused = go(&book, &line, State::Approved, Some("  "), &desk()).await.unwrap_err().to_string();
        assert!(refused.contains("its review says ask"), "{refused}");
        let line = go(&book, &line, State::Approved, Some("the owner brought the old shaft"), &desk()).await.unwrap();
        assert_eq!(line.overruled.as_deref(), Some("the owner brought the old shaft"));

        let stop = with_verdict(axle::Verdict::Stop);
        let line = book.place(&stop, &customer(), &desk(), at(1)).await.unwrap();
        let refused = go(&book, &line, State::Approved, Some("I know better"), &owner()).await.unwrap_err().to_string();
        assert!(refused.contains("nobody can overrule that without changing the order"), "{refused}");
    });
}

#[test]
fn a_revision_withdraws_the_approval() {
    on_both(async |bench| {
        let book = bench.book().await;
        let line = place_sound(&book, "Q-0101").await;
        let line = go(&book, &line, State::Approved, None, &desk()).await.unwrap();
        let line = go(&book, &line, State::InWork, None, &floor()).await.unwrap();
        let thinner = reviewed(&demo("01-hay-truck").replace("\"0.421\"", "\"0.425\""));
        let revised = book.revise(line.number, 1, &thinner, &customer(), "read again", &desk(), at(20)).await.unwrap();
        assert_eq!((revised.state, revised.approved_revision), (State::Questioned, None));
        let last = book.events(line.number).await.unwrap().pop().unwrap();
        assert_eq!(last.body["reason"], "revision 2 is not what was approved");
        // The floor still has the old state on its screen.
        let moved = go(&book, &OrderLine { revision: 2, ..line }, State::Inspected, None, &floor()).await.unwrap_err();
        assert!(matches!(moved, BookError::MovedOn { now: State::Questioned, .. }), "{moved}");
    });
}

#[test]
fn what_is_inspected_stands_still_until_it_is_remade() {
    on_both(async |bench| {
        let book = bench.book().await;
        let line = place_sound(&book, "Q-0101").await;
        let line = go(&book, &line, State::Approved, None, &desk()).await.unwrap();
        let line = go(&book, &line, State::InWork, None, &floor()).await.unwrap();
        let line = go(&book, &line, State::Inspected, Some("measured on paper"), &floor()).await.unwrap();
        let thinner = reviewed(&demo("01-hay-truck").replace("\"0.421\"", "\"0.425\""));
        let refused = book.revise(line.number, 1, &thinner, &customer(), "late", &desk(), at(20)).await.unwrap_err();
        assert!(refused.to_string().contains("accepted: a move to remade first"), "{refused}");
        let line = go(&book, &line, State::Remade, Some("scrapped in grinding"), &floor()).await.unwrap();
        book.revise(line.number, 1, &thinner, &customer(), "late", &desk(), at(20)).await.unwrap();
    });
}

#[test]
fn a_move_that_needs_a_reason_gets_one() {
    on_both(async |bench| {
        let book = bench.book().await;
        let line = place_sound(&book, "Q-0101").await;
        assert!(line.state.moves().any(|one| one.to == State::Closed && one.needs == Need::Reason));
        let refused = go(&book, &line, State::Closed, None, &desk()).await.unwrap_err().to_string();
        assert!(refused.contains("accepted: a few words that say why"), "{refused}");
        go(&book, &line, State::Closed, Some("the customer sold the truck"), &desk()).await.unwrap();
        assert_eq!(book.events(line.number).await.unwrap()[1].body["reason"], "the customer sold the truck");
        let looker = Person::new("Looker", Role::ReadOnly);
        assert!(book.write_message(1, book::Direction::Note, "seen", &looker, at(9)).await.is_err());
    });
}

#[test]
fn nothing_is_inspected_that_was_not_measured_or_is_out_of_its_limits() {
    on_both(async |bench| {
        let book = bench.book().await;
        let line = place_sound(&book, "Q-0101").await;
        let line = go(&book, &line, State::Approved, None, &desk()).await.unwrap();
        let line = go(&book, &line, State::InWork, None, &floor()).await.unwrap();
        let refused = go(&book, &line, State::Inspected, None, &floor()).await.unwrap_err().to_string();
        assert!(refused.contains("nothing was measured"), "{refused}");
        let size = |text: &str, passed| {
            let written = quantity::read_length(text, None).unwrap();
            [book::InspectedSize { kind: axle::DimensionKind::ShoulderDistance, side: None, written, passed }]
        };
        book.inspect(line.number, line.revision, &size("2 in", false), &[], &floor(), at(11)).await.unwrap();
        let refused = go(&book, &line, State::Inspected, None, &floor()).await.unwrap_err().to_string();
        assert!(refused.contains("out of limits: shoulder distance"), "{refused}");
        // The latest measurement of a size counts, and so does what was written down beside it.
        let [_, _, mut ring] = records();
        ring.passed = Some(false);
        book.inspect(line.number, line.revision, &size("2.18 in", true), &[ring.clone()], &floor(), at(12))
            .await
            .unwrap();
        let refused = go(&book, &line, State::Inspected, None, &floor()).await.unwrap_err().to_string();
        assert!(refused.contains("out of limits: ring press force left"), "{refused}");
        ring.passed = Some(true);
        book.inspect(line.number, line.revision, &[], &[ring.clone()], &floor(), at(12)).await.unwrap();
        ring.amount = book::Amount::None;
        let refused = book.inspect(line.number, line.revision, &[], &[ring], &floor(), at(12)).await.unwrap_err();
        assert!(refused.to_string().contains("is no press force of the lock ring"), "{refused}");
        go(&book, &line, State::Inspected, None, &floor()).await.unwrap();
    });
}

#[test]
fn a_move_goes_by_the_review_of_the_moment_and_an_approval_keeps_its_sizes() {
    on_both(async |bench| {
        let book = bench.book().await;
        let line = place_sound(&book, "Q-0101").await;
        let sheet = book.order(line.number).await.unwrap().sheet;
        let strict = book::ReviewedSheet::read("sheet", &sheet, &book::MarkedCatalog::new(stricter())).unwrap();
        let request = MoveRequest { seen_revision: 1, from: State::Received, to: State::Approved, reason: None };
        let refused = book.move_reviewed(line.number, request, &strict, &desk(), at(5)).await.unwrap_err().to_string();
        assert!(refused.contains("its review says ask"), "{refused}");
        let other = reviewed(&demo("01-hay-truck").replace("\"0.421\"", "\"0.425\""));
        let refused = book.move_reviewed(line.number, request, &other, &desk(), at(5)).await.unwrap_err().to_string();
        assert!(refused.contains("another sheet"), "{refused}");
        let sound = reviewed(&sheet);
        book.move_reviewed(line.number, request, &sound, &desk(), at(6)).await.unwrap();
        let events = book.events(line.number).await.unwrap();
        let kept = events.last().unwrap().body.get("sizes").and_then(|mark| mark.as_str().map(str::to_owned));
        assert_eq!(kept, Some(sound.sizes_mark()));
        assert!(book.check(None).await.unwrap().is_sound());
    });
}
