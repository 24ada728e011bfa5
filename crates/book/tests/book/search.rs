//! Lists and the search as one types.

use quantity::LengthExt;

use book::{Book, BookError, Cursor, Details, Judgement, ListRequest, MoveRequest, Sort, State};

use crate::both::{Bench, at, desk, on_both, reviewed, sound};

async fn found(book: &Book, search: &str) -> Vec<String> {
    let request = ListRequest { search: search.to_owned(), ..ListRequest::default() };
    book.list(&request).await.unwrap().lines.into_iter().map(|line| line.reference).collect()
}

async fn three_orders(bench: &Bench) -> Book {
    let book = bench.book().await;
    let customers = [
        ("Q-0101", "Tamsin Müller", "hay truck"),
        ("Q-0102", "Weir Dairy", "milk float"),
        ("R-7", "Tam Leat", "hay rake"),
    ];
    for ((reference, customer, vehicle), minute) in customers.into_iter().zip(1..) {
        let details = Details { customer: customer.to_owned(), vehicle: vehicle.to_owned(), ..Details::default() };
        book.place(&sound(reference), &details, &desk(), at(minute)).await.unwrap();
    }
    book
}

#[test]
fn reference_customer_vehicle_and_part_are_found_as_one_types() {
    on_both(async |bench| {
        let book = three_orders(&bench).await;
        assert_eq!(found(&book, "").await, ["R-7", "Q-0102", "Q-0101"]);
        assert_eq!(found(&book, "q-01").await, ["Q-0102", "Q-0101"]);
        assert_eq!(found(&book, "Q0102").await, ["Q-0102"]);
        assert_eq!(found(&book, "tam").await, ["R-7", "Q-0101"]);
        assert_eq!(found(&book, "muller").await, ["Q-0101"]);
        assert_eq!(found(&book, "Müll HAY").await, ["Q-0101"]);
        assert_eq!(found(&book, "hay milk").await, [""; 0]);
        // A part that the sheet claims, and the axle.
        assert_eq!(found(&book, "drum 24/48 stout float").await, ["Q-0102"]);
        assert_eq!(found(&book, "--").await, [""; 0]);
        // What would be a pattern or a statement elsewhere is only a word here.
        for odd in ["%", "_", "'; DROP TABLE orders; --", "\\", "\u{10FFFF}"] {
            assert_eq!(found(&book, odd).await, [""; 0], "{odd}");
        }
    });
}

#[test]
fn a_decided_size_is_found_within_its_written_digits() {
    on_both(async |bench| {
        let book = three_orders(&bench).await;
        let sheet = sound("Q-0101");
        let shoulder =
            sheet.review.dimensions.iter().find(|one| one.kind == axle::DimensionKind::ShoulderDistance).unwrap();
        let inches = shoulder.cut.inches();
        assert_eq!(found(&book, &format!("shoulder {inches:.2}")).await.len(), 3);
        assert_eq!(found(&book, &format!("hay shoulder dist {inches:.3} in")).await.len(), 2);
        let millimetres = shoulder.cut.millimetres();
        assert_eq!(found(&book, &format!("shoul {millimetres:.1}mm r7")).await, ["R-7"]);
        assert_eq!(found(&book, &format!("shoulder {:.2}", inches + 0.02)).await, [""; 0]);
        assert_eq!(found(&book, &format!("shoulder {inches:.2} mm")).await, [""; 0]);
        // A journal of that size there is not.
        assert_eq!(found(&book, &format!("journal {inches:.2}")).await, [""; 0]);
    });
}

#[test]
fn a_revision_is_found_by_its_new_words_only() {
    on_both(async |bench| {
        let book = three_orders(&bench).await;
        let details = Details { customer: "Nessa Quay".to_owned(), vehicle: "tug".to_owned(), ..Details::default() };
        let sheet = reviewed(&sound("R-7").text.replace("stout housing, drums", "from a ferry"));
        book.revise(3, 1, &sheet, &details, "sold on", &desk(), at(30)).await.unwrap();
        assert_eq!(found(&book, "leat").await, [""; 0]);
        assert_eq!(found(&book, "nessa ferry").await, ["R-7"]);
    });
}

#[test]
fn lists_come_by_state_and_verdict_and_in_pages() {
    on_both(async |bench| {
        let book = three_orders(&bench).await;
        let request = MoveRequest { seen_revision: 1, from: State::Received, to: State::Questioned, reason: None };
        book.move_order(1, request, &desk(), at(60)).await.unwrap();
        let list = async |request: ListRequest| {
            let list = book.list(&request).await.unwrap();
            (list.lines.iter().map(|line| line.number).collect::<Vec<_>>(), list.next)
        };
        let base = ListRequest::default();
        assert_eq!(list(ListRequest { states: vec![State::Questioned], ..base.clone() }).await.0, [1]);
        let both = vec![State::Received, State::Questioned, State::Received];
        assert_eq!(list(ListRequest { states: both.clone(), ..base.clone() }).await.0, [3, 2, 1]);
        assert_eq!(list(ListRequest { sort: Sort::LastChanged, ..base.clone() }).await.0, [1, 3, 2]);
        assert_eq!(list(ListRequest { states: both, sort: Sort::LastChanged, ..base.clone() }).await.0, [1, 3, 2]);
        assert_eq!(list(ListRequest { judgements: vec![Judgement::Stop], ..base.clone() }).await.0, [0_i64; 0]);
        let searched = ListRequest { search: "hay".to_owned(), states: vec![State::Received], ..base.clone() };
        assert_eq!(list(searched).await.0, [3]);

        for (sort, expected) in [(Sort::Newest, [3, 2, 1]), (Sort::LastChanged, [1, 3, 2])] {
            for search in ["", "stout"] {
                let mut after = None;
                let mut seen = Vec::new();
                loop {
                    let request = ListRequest { search: search.to_owned(), sort, after, at_most: 1, ..base.clone() };
                    let (numbers, next) = list(request).await;
                    seen.extend(numbers);
                    let Some(next) = next else { break };
                    after = Some(Cursor::read(&next.text()).unwrap());
                }
                assert_eq!(seen, expected, "{sort:?} {search}");
            }
        }
        assert!(matches!(Cursor::read("here"), Err(BookError::Refused { .. })));
        let counts = book.count_by_state().await.unwrap();
        assert!(counts.contains(&(State::Received, 2)) && counts.contains(&(State::Closed, 0)), "{counts:?}");
    });
}
