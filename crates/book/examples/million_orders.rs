//! Fills a book with a million orders and measures lists and searches against their goals, each the worst of several runs.
//!
//! ```sh
//! cargo run --release -p book --example million_orders                      # SQLite, a million orders
//! cargo run --release -p book --example million_orders -- 100000            # the memory of a usual book
//! cargo run --release -p book --example million_orders -- 1000000 postgres://desk@localhost/empty_database
//! ```
//!
//! A place that holds so many orders already, from an earlier run, is only measured.
//!
//! The orders are put into the tables by the database itself, since a million true reviews would take a day. They have the sizes of
//! true ones: twelve words and sixteen decided sizes each, five thousand customers, three hundred kinds of vehicle. The open ones have
//! a sheet, all the same one, so that they can be reviewed anew after a change of the catalog.
#![allow(clippy::unwrap_used, clippy::disallowed_types, reason = "an example that measures")]

use std::time::Instant;

use book::{Book, Cursor, Judgement, ListRequest, MarkedCatalog, Sort, State};
use catalog::Catalog;
use jiff::Timestamp;

/// The goal for each list and search.
const GOAL_MILLISECONDS: f64 = 30.0;
/// The goal for the memory of the process with 100 000 orders.
const GOAL_MEGABYTES: f64 = 150.0;
/// Each is run so often; the first run reads from the disk.
const RUNS: usize = 9;

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let orders: u64 = arguments.first().map_or(1_000_000, |text| text.parse().unwrap());
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("orders.db").display().to_string();
    let place = arguments.get(1).unwrap_or(&file).clone();
    tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap().block_on(measure(&place, orders));
}

async fn measure(place: &str, orders: u64) {
    let now: Timestamp = "2026-03-02T08:00:00Z".parse().unwrap();
    let book = Book::open(place, now).await.unwrap();
    let newest = async || {
        let list = book.list(&ListRequest { at_most: 1, ..ListRequest::default() }).await.unwrap();
        list.lines.first().map_or(0, |line| line.number.unsigned_abs())
    };
    if newest().await != orders {
        let began = Instant::now();
        fill(place, orders).await;
        println!("{}: {orders} orders put in within {:.0} s", book.engine(), began.elapsed().as_secs_f64());
        assert_eq!(newest().await, orders);
    }
    // A book that is opened anew, as a desk does it in the morning.
    book.close().await;
    let began = Instant::now();
    let book = Book::open(place, now).await.unwrap();
    let opened = began.elapsed().as_secs_f64() * 1e3;
    book.list(&ListRequest::default()).await.unwrap();
    let first = began.elapsed().as_secs_f64() * 1e3;
    println!("opened in {opened:.1} ms, the first page after {first:.1} ms");

    let search = |words: &str| ListRequest { search: words.to_owned(), ..ListRequest::default() };
    let last = format!("q{orders}");
    // Pages that begin half way through the book, and near its beginning.
    let middle = i64::try_from(orders / 2).unwrap();
    let deep = |number: i64| Some(Cursor::read(&format!("{}-{number}", 1_770_000_000_000_000 + number)).unwrap());
    let cases = [
        ("the newest", ListRequest::default()),
        ("the last changed", ListRequest { sort: Sort::LastChanged, ..ListRequest::default() }),
        ("one state", ListRequest { states: vec![State::Questioned], ..ListRequest::default() }),
        (
            "six states, one verdict, last changed",
            ListRequest {
                states: State::OPEN.to_vec(),
                judgements: vec![Judgement::Ask],
                sort: Sort::LastChanged,
                ..ListRequest::default()
            },
        ),
        ("the newest, half way through", ListRequest { after: deep(middle), ..ListRequest::default() }),
        (
            "the last changed, near the end",
            ListRequest { sort: Sort::LastChanged, after: deep(1_000), ..ListRequest::default() },
        ),
        (
            "one state, near the end",
            ListRequest { states: vec![State::Questioned], after: deep(1_000), ..ListRequest::default() },
        ),
        ("one verdict", ListRequest { judgements: vec![Judgement::Ask], ..ListRequest::default() }),
        ("a verdict that no order has", ListRequest { judgements: vec![Judgement::Stop], ..ListRequest::default() }),
        ("a reference", search(&last)),
        ("its first three letters", search("q50")),
        ("its first four letters", search("q500")),
        ("its first six letters", search("q50000")),
        ("the first letter of a reference", search("q")),
        ("a customer", search("cust4711")),
        ("the first letters of a customer", search("cust4")),
        ("a common word", search("housing")),
        ("two common words", search("vehicle1 cust1")),
        ("two common words that never meet", search("never ever")),
        ("the same, the last changed", ListRequest { sort: Sort::LastChanged, ..search("never ever") }),
        ("the same, half way through", ListRequest { after: deep(middle), ..search("never ever") }),
        ("a common word, half way through", ListRequest { after: deep(middle), ..search("housing") }),
        ("a common word, the last changed", ListRequest { sort: Sort::LastChanged, ..search("vehicle11") }),
        ("a customer and a vehicle", search("cust4711 vehicle11")),
        ("a rare word and six common ones", search("cust4711 vehicle cust housing drum stout ball")),
        ("eight common words", search("v c h d s b r a")),
        ("a common word in one state", ListRequest { states: vec![State::Shipped], ..search("housing") }),
        (
            "a common word in a verdict that none has",
            ListRequest { judgements: vec![Judgement::Stop], ..search("drum") },
        ),
        ("a word that is not there", search("zebra")),
        ("shoulder 2.85", search("shoulder 2.85")),
        ("shoulder 2.8", search("shoulder 2.8")),
        ("overall length 28 7/8", search("overall length 28 7/8\"")),
        ("two sizes", search("shoulder 2.2 journal 40 mm")),
        ("two sizes that are rare", search("shoulder 2.153 journal 1.512")),
        ("shoulder 2.85 and a customer", search("cust47 shoulder 2.85")),
        ("a word and journal 40 mm", search("vehicle7 journal 40 mm")),
    ];
    println!(
        "{:<40} {:>6} {:>9} {:>9}  goal {GOAL_MILLISECONDS} ms",
        "list or search", "found", "usual ms", "worst ms"
    );
    for (name, request) in cases {
        let mut times = Vec::new();
        let mut found = String::new();
        for _ in 0..RUNS {
            let began = Instant::now();
            let list = book.list(&request).await.unwrap();
            times.push(began.elapsed().as_secs_f64() * 1e3);
            found = format!("{}{}", list.lines.len(), if list.cut_short { "…" } else { "" });
        }
        print_times(name, &found, times);
    }
    let mut times = Vec::new();
    for _ in 0..RUNS {
        let began = Instant::now();
        let counts = book.count_by_state().await.unwrap();
        times.push(began.elapsed().as_secs_f64() * 1e3);
        assert_eq!(counts.iter().map(|(_, count)| count.unsigned_abs()).sum::<u64>(), orders);
    }
    print_times("how many orders are in each state", "", times);
    if let Some(megabytes) = peak_memory() {
        println!("peak memory of this process {megabytes:.0} MB, goal {GOAL_MEGABYTES} MB with 100 000 orders");
    }
}

/// A line of the table: the middle one and the worst one of the runs.
fn print_times(name: &str, found: &str, mut times: Vec<f64>) {
    times.sort_by(f64::total_cmp);
    let worst = times[RUNS - 1];
    let verdict = if worst <= GOAL_MILLISECONDS { "" } else { "  MISSED" };
    println!("{name:<40} {found:>6} {:>9.2} {worst:>9.2}{verdict}", times[RUNS / 2]);
}

/// The most memory that this process ever held, where the system tells it.
fn peak_memory() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM"))?;
    Some(line.split_whitespace().nth(1)?.parse::<f64>().ok()? / 1024.0)
}

/// The indexes beside the keys. They are made after the rows, which takes a tenth of the time.
const INDEXES: [(&str, &str); 6] = [
    ("UNIQUE INDEX orders_by_reference", "orders (reference_key)"),
    ("INDEX orders_by_state", "orders (state, verdict, number)"),
    ("INDEX orders_by_change", "orders (state, verdict, changed_at, number)"),
    ("INDEX orders_by_time", "orders (changed_at, number)"),
    ("INDEX decided_size_by_size", "decided_size (kind, size, order_number)"),
    ("INDEX search_word_of_order", "search_word (order_number, word)"),
];

/// Lets the database make the orders itself, out of a series of the numbers 1 to n. The multipliers are primes, so that
/// customers, vehicles and sizes do not follow one another.
async fn fill(place: &str, orders: u64) {
    let series =
        format!("WITH RECURSIVE s(n) AS (SELECT CAST(1 AS BIGINT) UNION ALL SELECT n + 1 FROM s WHERE n < {orders}) ");
    let words = [
        "'q' || s.n",
        "'cust' || (s.n * 7919 % 5000)",
        "'cust'",
        "'vehicle' || (s.n * 104729 % 300)",
        "'vehicle'",
        "'housing'",
        "'drum'",
        "'stout'",
        "'row' || (s.n * 31 % 60)",
        "'ball'",
        "CASE WHEN s.n % 40 = 0 THEN 'never' ELSE 'always' END",
        "CASE WHEN s.n % 40 = 1 THEN 'ever' ELSE 'somewhere' END",
    ];
    // Each between its ends in nanometres, spread evenly.
    let sizes = [
        ("overall_length", "left", 700_000_000, 60_000_000),
        ("overall_length", "right", 700_000_000, 60_000_000),
        ("shoulder_distance", "", 50_000_000, 25_000_000),
        ("race_distance", "", 50_000_000, 25_000_000),
        ("brake_offset", "left", 50_000_000, 15_000_000),
        ("brake_offset", "right", 50_000_000, 15_000_000),
        ("flange_diameter", "", 140_000_000, 20_000_000),
        ("flange_thickness", "", 9_000_000, 3_000_000),
        ("register_diameter", "", 64_000_000, 10_000_000),
        ("wheel_pilot_diameter", "", 60_000_000, 10_000_000),
        ("journal_diameter", "", 35_000_000, 10_000_000),
        ("ring_seat_diameter", "", 34_000_000, 10_000_000),
        ("seal_journal_diameter", "", 33_000_000, 10_000_000),
        ("bolt_circle", "", 108_000_000, 20_000_000),
        ("stud_hole", "", 11_000_000, 5_000_000),
        ("spline_major_diameter", "", 30_000_000, 8_000_000),
    ];
    let state = "CASE WHEN s.n % 50 = 0 THEN 'questioned' WHEN s.n % 50 = 1 THEN 'received' WHEN s.n % 50 = 2 THEN 'in-work' \
                 WHEN s.n % 50 = 3 THEN 'shipped' ELSE 'closed' END";
    let catalog = MarkedCatalog::new(Catalog::shipped().unwrap());
    let mark = catalog.mark();
    let mut statements: Vec<String> =
        INDEXES.iter().map(|(index, _)| format!("DROP {}", index.trim_start_matches("UNIQUE "))).collect();
    statements.push(format!(
        "INSERT INTO orders (number, reference, reference_key, customer, contact, vehicle, axle, state, state_since, revision, \
         verdict, fit, catalog_mark, reviewed_at, placed_at, placed_by, changed_at) {series} \
         SELECT s.n, 'Q-' || s.n, 'q' || s.n, 'cust' || (s.n * 7919 % 5000), '', 'vehicle' || (s.n * 104729 % 300), \
         'stout housing, drum', {state}, 1770000000000000 + s.n, 1, CASE WHEN s.n % 7 = 0 THEN 'ask' ELSE 'cut' END, 0.97, '{mark}', \
         1770000000000000, 1770000000000000 + s.n, 'desk', 1770000000000000 + (s.n * 7919 % {orders}) FROM s"
    ));
    let demo = format!("{}/../../demo/orders/01-hay-truck.toml", env!("CARGO_MANIFEST_DIR"));
    let sheet = std::fs::read_to_string(demo).unwrap().replace('\'', "''");
    let open: Vec<String> = State::OPEN.iter().map(|state| format!("'{}'", state.key())).collect();
    statements.push(format!(
        "INSERT INTO revision (order_number, revision, base, at, who, reason, customer, contact, vehicle, sheet) \
         SELECT number, 1, 0, placed_at, placed_by, 'taken in', customer, contact, vehicle, '{sheet}' FROM orders \
         WHERE state IN ({})",
        open.join(", ")
    ));
    for word in words {
        statements.push(format!(
            "INSERT INTO search_word (word, order_number) {series} SELECT {word} AS w, s.n FROM s ORDER BY 1, 2"
        ));
    }
    let kinds: Vec<String> = sizes
        .into_iter()
        .enumerate()
        .map(|(index, (kind, side, least, range))| {
            format!(
                "SELECT '{kind}' AS kind, '{side}' AS side, {least} AS least, {} AS prime, {} AS step",
                7919 + 2 * index,
                range / 10_007
            )
        })
        .collect();
    statements.push(format!(
        "INSERT INTO decided_size (order_number, kind, side, size) {series} \
         SELECT s.n, z.kind, z.side, z.least + (s.n * z.prime % 10007) * z.step FROM s CROSS JOIN ({}) z",
        kinds.join(" UNION ALL ")
    ));
    statements.extend(INDEXES.iter().map(|(index, on)| format!("CREATE {index} ON {on}")));
    statements.push("ANALYZE".to_owned());
    for statement in statements {
        by_hand(place, &statement).await;
    }
}

async fn by_hand(place: &str, statement: &str) {
    use sqlx::Connection;
    let script = sqlx::raw_sql(sqlx::AssertSqlSafe(statement));
    if place.starts_with("postgres") {
        let mut connection = sqlx::PgConnection::connect(place).await.unwrap();
        script.execute(&mut connection).await.unwrap();
    } else {
        let mut connection = sqlx::SqliteConnection::connect(&format!("sqlite://{place}")).await.unwrap();
        script.execute(&mut connection).await.unwrap();
    }
}
