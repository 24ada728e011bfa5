//! Fills a book with a million orders and measures lists and searches against their goals, each the worst of several runs.
//!
//! ```sh
//! cargo run --release -p book --example million_orders                      # SQLite, a million orders
//! cargo run --release -p book --example million_orders -- 100000            # the memory of a usual book
//! cargo run --release -p book --example million_orders -- 1000000 postgres://desk@localhost/empty_database
//! ```
//!
//! The orders are put into the tables by the database itself, since a million true reviews would take a day. They have the sizes of
//! true ones: twelve words and sixteen decided sizes each, five thousand customers, three hundred kinds of vehicle.
#![allow(clippy::unwrap_used, clippy::disallowed_types, reason = "an example that measures")]

use std::time::Instant;

use book::{Book, Judgement, ListRequest, Sort, State};
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
    let began = Instant::now();
    fill(place, orders).await;
    println!("{}: {orders} orders put in within {:.0} s", book.engine(), began.elapsed().as_secs_f64());
    let newest = book.list(&ListRequest { at_most: 1, ..ListRequest::default() }).await.unwrap().lines.remove(0);
    assert_eq!(newest.number.unsigned_abs(), orders);

    let search = |words: &str| ListRequest { search: words.to_owned(), ..ListRequest::default() };
    let last = search("").search + &format!("q{orders}");
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
        ("a reference", search(&last)),
        ("the first letter of a reference", search("q")),
        ("a customer", search("cust4711")),
        ("the first letters of a customer", search("cust4")),
        ("a common word", search("housing")),
        ("two common words", search("vehicle1 cust1")),
        ("two common words that never meet", search("never ever")),
        ("a customer and a vehicle", search("cust4711 vehicle11")),
        ("a common word in one state", ListRequest { states: vec![State::Shipped], ..search("housing") }),
        ("a word that is not there", search("zebra")),
        ("shoulder 2.85", search("shoulder 2.85")),
        ("shoulder 2.8", search("shoulder 2.8")),
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
        times.sort_by(f64::total_cmp);
        let worst = times[RUNS - 1];
        let verdict = if worst <= GOAL_MILLISECONDS { "" } else { "  MISSED" };
        println!("{name:<40} {found:>6} {:>9.2} {worst:>9.2}{verdict}", times[RUNS / 2]);
    }
    if let Some(megabytes) = peak_memory() {
        println!("peak memory of this process {megabytes:.0} MB, goal {GOAL_MEGABYTES} MB with 100 000 orders");
    }
}

/// The most memory that this process ever held, where the system tells it.
fn peak_memory() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM"))?;
    Some(line.split_whitespace().nth(1)?.parse::<f64>().ok()? / 1024.0)
}

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
    let mut statements = vec![format!(
        "INSERT INTO orders (number, reference, reference_key, customer, contact, vehicle, axle, state, state_since, revision, \
         verdict, fit, catalog_mark, reviewed_at, placed_at, placed_by, changed_at) {series} \
         SELECT s.n, 'Q-' || s.n, 'q' || s.n, 'cust' || (s.n * 7919 % 5000), '', 'vehicle' || (s.n * 104729 % 300), \
         'stout housing, drum', {state}, 1770000000000000 + s.n, 1, CASE WHEN s.n % 7 = 0 THEN 'ask' ELSE 'cut' END, 0.97, 'mark', \
         1770000000000000, 1770000000000000 + s.n, 'desk', 1770000000000000 + (s.n * 7919 % {orders}) FROM s"
    )];
    for word in words {
        statements.push(format!("INSERT INTO search_word (word, order_number) {series} SELECT {word}, s.n FROM s"));
    }
    for (index, (kind, side, least, range)) in sizes.into_iter().enumerate() {
        let prime = 7919 + 2 * index;
        statements.push(format!(
            "INSERT INTO decided_size (order_number, kind, side, size) {series} \
             SELECT s.n, '{kind}', '{side}', {least} + (s.n * {prime} % 10007) * {} FROM s",
            range / 10_007
        ));
    }
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
