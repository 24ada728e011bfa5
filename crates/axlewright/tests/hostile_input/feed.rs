//! Every door through which bytes of strangers come in, as a function of those bytes. Whatever they are, nothing may panic, and what
//! is refused is refused in words. The fuzz targets in `fuzz/` and the tests beside this file go through the same functions.

use std::sync::OnceLock;

use book::{Book, Cursor, Details, ListRequest, MarkedCatalog, Person, ReviewedSheet, Role, Sort};
use catalog::Catalog;
use quantity::{LengthExt, LengthUnit, read_length};
use tempfile::TempDir;
use tokio::runtime::Runtime;

/// A function that takes whatever comes, and the name of its folder of seeds.
pub type Door = (&'static str, fn(&[u8]));

/// Every door but that of the desk, which needs more to be built.
pub const DOORS: [Door; 7] = [
    ("lengths", length),
    ("sheets", sheet),
    ("catalogs", catalog),
    ("tables", table),
    ("workbooks", workbook),
    ("exports", export),
    ("searches", search),
];

fn shipped() -> &'static MarkedCatalog {
    static CATALOG: OnceLock<MarkedCatalog> = OnceLock::new();
    CATALOG.get_or_init(|| MarkedCatalog::new(Catalog::shipped().unwrap()))
}

/// A length as it is typed.
pub fn length(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    for default in [None, Some(LengthUnit::Inch), Some(LengthUnit::Millimetre)] {
        match read_length(text, default) {
            Err(refused) => assert!(!refused.to_string().is_empty()),
            Ok(written) => {
                assert!(written.value().millimetres().is_finite(), "{text:?}");
                // What is kept of it says the same when it is read again.
                let again = read_length(written.text(), Some(written.unit())).unwrap();
                assert_eq!(again.value(), written.value(), "{text:?}");
            }
        }
    }
}

/// An order sheet; one that can be read is reviewed.
pub fn sheet(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    match ReviewedSheet::read("sheet.toml", text, shipped()) {
        Err(refused) => assert!(refused.to_string().contains("accepted: "), "{refused}"),
        Ok(reviewed) => {
            let chance = reviewed.review.fit_probability.map(|fit| fit.value);
            assert!(chance.is_none_or(|chance| (0.0..=1.0).contains(&chance)), "{chance:?}");
        }
    }
}

/// A file of the shop's own catalog.
pub fn catalog(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    if let Err(refused) = Catalog::with_folder(&[("own.toml".to_owned(), text.to_owned())]) {
        assert!(refused.to_string().contains("accepted: "), "{refused}");
    }
}

/// So many rows of a table are reviewed.
const ROWS: usize = 3;

/// A table of orders, and one that stands beside sheets.
pub fn table(bytes: &[u8]) {
    match book::read_csv("orders.csv", bytes) {
        Err(faults) => assert!(!faults.is_empty()),
        Ok(rows) => review(&rows),
    }
    if let Err(faults) = book::read_details("who.csv", bytes) {
        assert!(!faults.is_empty());
    }
}

/// A workbook of orders.
pub fn workbook(bytes: &[u8]) {
    match book::read_xlsx("orders.xlsx", bytes) {
        Err(faults) => assert!(!faults.is_empty()),
        Ok(rows) => review(&rows),
    }
}

fn review(rows: &[book::RowSheet]) {
    for row in rows.iter().take(ROWS) {
        if let Err(faults) = row.review(shipped()) {
            assert!(faults.iter().all(|fault| !fault.accepted.is_empty()), "{faults:?}");
        }
    }
}

/// What another book exported.
pub fn export(bytes: &[u8]) {
    if let Err(faults) = book::read_export("orders.json", bytes, shipped(), |_| Err("no photo".to_owned())) {
        assert!(faults.iter().all(|fault| fault.contains("accepted: ")), "{faults:?}");
    }
}

/// A book with two orders, which is only read.
struct Kept {
    runtime: Runtime,
    book: Book,
    _folder: TempDir,
}

fn kept() -> &'static Kept {
    static KEPT: OnceLock<Kept> = OnceLock::new();
    KEPT.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
        let now = "2026-03-02T08:00:00Z".parse().unwrap();
        let place = folder.path().join("orders.db").display().to_string();
        let book = runtime.block_on(async {
            let book = Book::open(&place, now).await.unwrap();
            let texts = [
                include_str!("../../../../demo/orders/01-hay-truck.toml"),
                include_str!("../../../../demo/orders/02-market-wagon.toml"),
            ];
            let orders: Vec<(ReviewedSheet, Details)> = texts
                .into_iter()
                .map(|text| {
                    let details = Details { customer: "Tamsin Müller".to_owned(), ..Details::default() };
                    (ReviewedSheet::read("sheet", text, shipped()).unwrap(), details)
                })
                .collect();
            book.import(&orders, &Person::new("desk", Role::Desk), now).await.unwrap();
            book
        });
        Kept { runtime, book, _folder: folder }
    })
}

/// What somebody types into the search: it is never more than words and sizes, so no query fails.
pub fn search(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let Kept { runtime, book, .. } = kept();
    let (words, after) = text.rsplit_once('\n').map_or((text.as_ref(), None), |(words, after)| (words, Some(after)));
    let after = after.and_then(|after| Cursor::read(after).ok());
    for sort in [Sort::Newest, Sort::LastChanged] {
        let request = ListRequest { search: words.to_owned(), sort, after, at_most: 1, ..ListRequest::default() };
        let list = runtime.block_on(book.list(&request)).unwrap();
        assert!(list.lines.len() <= 1);
    }
}
