//! Orders come in from tables and sheets, all of them or none.

use book::{Book, Details, Person, ReviewedSheet, Role, RowSheet, read_csv, read_xlsx};

use crate::both::{at, catalog, desk, on_both, place_sound, sound};

const TABLE: &str = "\
reference,customer,due,use,unit,differential,sides,left overall length,left overall length instrument,register diameter,tooth count
T-1,Weir Dairy,2026-04-01,street,in,open,both,\"29 1/32\"\"\",tape,2.7790; 2.7785,31
T-2,\"Leat, Tam\",,tow,mm,open,left,735.5,tape,,30
";

fn reviewed(rows: &[RowSheet]) -> Vec<(ReviewedSheet, Details)> {
    rows.iter().map(|row| (row.review(catalog()).unwrap(), row.details().clone())).collect()
}

async fn references(book: &Book) -> Vec<String> {
    let list = book.list(&book::ListRequest::default()).await.unwrap();
    list.lines.into_iter().map(|line| line.reference).collect()
}

#[test]
fn a_table_comes_in_and_every_cell_becomes_what_it_says() {
    on_both(async |bench| {
        let book = bench.book().await;
        let orders = reviewed(&read_csv("orders.csv", TABLE.as_bytes()).unwrap());
        let lines = book.import(&orders, &desk(), at(1)).await.unwrap();
        assert_eq!(lines.iter().map(|line| line.number).collect::<Vec<_>>(), [1, 2]);
        assert_eq!(lines[1].details.customer, "Leat, Tam");
        assert_eq!(lines[0].details.due, Some(jiff::civil::date(2026, 4, 1)));
        let history = book.reading_history(1).await.unwrap();
        let said: Vec<(&str, &str)> =
            history.iter().map(|one| (one.measurand.as_str(), one.becomes.as_deref().unwrap())).collect();
        assert!(said.contains(&("overall_length", "29 1/32\", tape")), "{said:?}");
        assert!(said.contains(&("register_diameter", "2.7790 in; 2.7785 in")), "{said:?}");
        assert!(said.contains(&("tooth_count", "31")), "{said:?}");
        assert_eq!(book.reading_history(2).await.unwrap()[1].becomes.as_deref(), Some("735.5 mm, tape"));
        assert!(book.check(None).await.unwrap().is_sound());
    });
}

/// The workbook was written by another program's hand: `tests/tables/recipe.py`.
#[test]
fn a_workbook_says_the_same_as_the_table() {
    let rows = read_csv("orders.csv", TABLE.as_bytes()).unwrap();
    let path = format!("{}/tests/tables/orders.xlsx", env!("CARGO_MANIFEST_DIR"));
    let from_workbook = read_xlsx("orders.csv", &std::fs::read(path).unwrap()).unwrap();
    assert_eq!(from_workbook, rows);
    let refused = read_xlsx("orders.xlsx", TABLE.as_bytes()).unwrap_err();
    assert!(refused[0].to_string().contains("accepted: a workbook saved as .xlsx"), "{}", refused[0]);
}

#[test]
fn a_cell_that_cannot_be_used_is_named_with_its_row_and_heading() {
    let rows = read_csv("orders.csv", TABLE.replace("735.5", "about 73").as_bytes()).unwrap();
    assert!(rows[0].review(catalog()).is_ok());
    let faults = rows[1].review(catalog()).unwrap_err();
    let words = faults[0].to_string();
    assert!(words.starts_with("orders.csv, row 3, column `left overall length`: "), "{words}");
    assert!(words.contains("\n  accepted: "), "{words}");
    let faults = read_csv("orders.csv", TABLE.replace("tooth count", "teeth cuont").as_bytes()).unwrap_err();
    assert_eq!((faults[0].row, faults[0].column.as_deref()), (1, Some("teeth cuont")));
}

#[test]
fn an_import_is_all_or_nothing() {
    on_both(async |bench| {
        let book = bench.book().await;
        place_sound(&book, "T-2").await;
        let orders = reviewed(&read_csv("orders.csv", TABLE.as_bytes()).unwrap());
        let refused = book.import(&orders, &desk(), at(1)).await.unwrap_err().to_string();
        assert!(refused.contains("the reference T-2 is taken by order 1"), "{refused}");
        assert_eq!(references(&book).await, ["T-2"]);
        let sheets = [(sound("Q-1"), Details::default()), (sound("Q-2"), Details::default())];
        assert!(book.import(&sheets, &Person::new("Jory", Role::Floor), at(1)).await.is_err());
        book.import(&sheets, &desk(), at(1)).await.unwrap();
        assert_eq!(references(&book).await, ["Q-2", "Q-1", "T-2"]);
    });
}

#[test]
fn a_table_without_end_is_refused_and_faults_are_bounded() {
    let rows = "Q-1,both\n".repeat(10_000);
    let faults = read_csv("orders.csv", format!("reference,sides\n{rows}").as_bytes()).unwrap_err();
    assert_eq!((faults.len(), faults[0].row), (1, 10_001));
    assert!(faults[0].to_string().contains("accepted: at most 10000 rows"), "{}", faults[0]);
    let bad = "Q-1,both,no heading\n".repeat(200);
    let faults = read_csv("orders.csv", format!("reference,sides\n{bad}").as_bytes()).unwrap_err();
    assert_eq!(faults.len(), 100);
    assert!(faults[99].problem.ends_with("there are more faults that are not shown"), "{}", faults[99]);
    assert!(!faults[98].problem.contains("not shown"));
}
