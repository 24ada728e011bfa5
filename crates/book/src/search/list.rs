//! Lists of orders: filtered, searched, the newest or the last changed first, a page at a time.
//!
//! A page must come while somebody types, whatever the book holds. So the rarest term of a search is found first, by counting no
//! further than [`NARROW`]. If it is rare, its orders are looked at, the newest first, until the page is full. If no term is rare
//! but some are not common either, the numbers of the orders that have each of them are held against one another (`middling.rs`).
//! If every term is common, hits are close together, and the orders are walked from the newest on, no further than [`WALK`] a page;
//! the page then says that it has not looked at all.

use crate::Book;
use crate::database::Value;
use crate::error::BookError;
use crate::judgement::Judgement;
use crate::order::{LINE_COLUMNS, OrderLine};
use crate::state::State;

use super::query::{Term, terms_of};

/// So many orders are looked at one by one.
pub(super) const NARROW: i64 = 4_000;
/// So many orders are walked for one page.
const WALK: i64 = 12_000;
/// In steps of so many, so that a walk that finds enough ends early.
const STEP: i64 = 1_500;
/// The longest page.
const LONGEST_PAGE: usize = 500;

/// In which order a list comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Sort {
    /// The latest number first.
    #[default]
    Newest,
    /// The last changed first.
    LastChanged,
}

/// Where the next page begins. It is text, fit for an address.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cursor {
    pub(super) changed_at: i64,
    pub(super) number: i64,
}

impl Cursor {
    const BEGINNING: Self = Self { changed_at: i64::MAX, number: i64::MAX };

    /// The cursor as text: `1764000000000000-1234`.
    #[must_use]
    pub fn text(self) -> String {
        format!("{}-{}", self.changed_at, self.number)
    }

    /// The cursor that a text stands for.
    ///
    /// # Errors
    ///
    /// The text is none that [`Cursor::text`] writes.
    pub fn read(text: &str) -> Result<Self, BookError> {
        text.split_once('-')
            .and_then(|(changed, number)| {
                Some(Self { changed_at: changed.parse().ok()?, number: number.parse().ok()? })
            })
            .ok_or_else(|| {
                BookError::refused(format!("`{text}` is no place in a list"), "two whole numbers with a hyphen")
            })
    }
}

/// What a list is to show.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ListRequest {
    /// What was typed into the search; nothing for everything. Words are searched by their beginning in reference, customer,
    /// contact, vehicle, axle and parts; a dimension and a size (`shoulder 2.85`) in the decided sizes.
    pub search: String,
    /// Only these states; none for all.
    pub states: Vec<State>,
    /// Only these verdicts; none for all.
    pub judgements: Vec<Judgement>,
    /// In which order.
    pub sort: Sort,
    /// Where the page begins.
    pub after: Option<Cursor>,
    /// How many lines at most.
    pub at_most: usize,
}

impl Default for ListRequest {
    fn default() -> Self {
        Self {
            search: String::new(),
            states: Vec::new(),
            judgements: Vec::new(),
            sort: Sort::default(),
            after: None,
            at_most: 50,
        }
    }
}

/// A page of a list.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderList {
    /// The lines.
    pub lines: Vec<OrderLine>,
    /// Where the next page begins; none at the end.
    pub next: Option<Cursor>,
    /// Whether every order before `next` was looked at for this page until it was full or the list ended. Where every word is
    /// common and they seldom meet, a page may end early: then `next` goes on from there, and a screen should say so.
    pub cut_short: bool,
}

/// A statement that is put together, with its values.
#[derive(Debug, Default)]
pub(super) struct Statement {
    pub(super) text: String,
    pub(super) values: Vec<Value>,
}

impl Statement {
    pub(super) fn add(&mut self, text: &str) -> &mut Self {
        self.text.push_str(text);
        self
    }

    pub(super) fn bind(&mut self, value: impl Into<Value>) -> &mut Self {
        self.values.push(value.into());
        self.text.push_str(&format!("${}", self.values.len()));
        self
    }

    /// Only what stands behind a cursor in the list.
    fn behind(&mut self, cursor: Cursor, sort: Sort) -> &mut Self {
        match sort {
            Sort::Newest => self.add("o.number < ").bind(cursor.number),
            Sort::LastChanged => {
                self.add("(o.changed_at, o.number) < (").bind(cursor.changed_at).add(", ").bind(cursor.number).add(")")
            }
        }
    }

    pub(super) fn sorted(&mut self, sort: Sort) -> &mut Self {
        self.add(match sort {
            Sort::Newest => " ORDER BY o.number DESC",
            Sort::LastChanged => " ORDER BY o.changed_at DESC, o.number DESC",
        })
    }

    /// The orders that have a term, once for each of its entries, as a table to select from.
    pub(super) fn entries(&mut self, term: &Term) -> &mut Self {
        match term {
            Term::Word(word) => {
                self.add("(SELECT t.order_number FROM search_word t WHERE ").begins(word);
            }
            Term::Size { kinds, windows } => {
                // Not one condition with OR: PostgreSQL would fetch every row, where each of these is read from the index alone.
                let each = kinds.iter().flat_map(|kind| windows.iter().map(move |window| (kind, window)));
                for (index, (kind, (least, most))) in each.enumerate() {
                    self.add(if index > 0 { " UNION ALL " } else { "(" });
                    self.add("SELECT t.order_number FROM decided_size t WHERE t.kind = ").bind(kind.key());
                    self.add(" AND t.size BETWEEN ").bind(*least).add(" AND ").bind(*most);
                }
            }
        }
        self.add(") entry")
    }

    /// That a word begins like this.
    fn begins(&mut self, word: &str) -> &mut Self {
        self.add("t.word >= ").bind(word).add(" AND t.word < ").bind(format!("{word}\u{10FFFF}"))
    }

    /// That the order has a term.
    pub(super) fn has(&mut self, term: &Term) -> &mut Self {
        // Not EXISTS: PostgreSQL would make a join of it and might begin with all orders that have the term.
        let (kinds, windows) = match term {
            Term::Word(word) => {
                self.add(" AND (SELECT 1 FROM search_word t WHERE t.order_number = o.number AND ").begins(word);
                return self.add(" LIMIT 1) IS NOT NULL");
            }
            Term::Size { kinds, windows } => (kinds, windows),
        };
        self.add(" AND (SELECT 1 FROM decided_size t WHERE t.order_number = o.number AND ");
        // Written so that only the few sizes of this one order can be looked at, and not all orders with such a size.
        self.add("t.kind IN (");
        for (index, kind) in kinds.iter().enumerate() {
            self.add(if index > 0 { ", " } else { "" }).bind(kind.key());
        }
        self.add(") AND (");
        for (index, (least, most)) in windows.iter().enumerate() {
            self.add(if index > 0 { " OR " } else { "" });
            self.add("t.size BETWEEN ").bind(*least).add(" AND ").bind(*most);
        }
        self.add(") LIMIT 1) IS NOT NULL")
    }

    fn one_of(&mut self, column: &str, words: &[&'static str]) -> &mut Self {
        if words.is_empty() {
            return self;
        }
        self.add(" AND ").add(column).add(" IN (");
        for (index, word) in words.iter().enumerate() {
            self.add(if index > 0 { ", " } else { "" }).bind(*word);
        }
        self.add(")")
    }
}

impl Book {
    /// A page of a list.
    ///
    /// ```
    /// # tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap().block_on(async {
    /// # let folder = tempfile::tempdir().unwrap();
    /// # let place = folder.path().join("orders.db").display().to_string();
    /// use book::{Book, ListRequest};
    ///
    /// let book = Book::open(&place, "2026-03-02T08:00:00Z".parse().unwrap()).await.unwrap();
    /// let request = ListRequest { search: "shoulder 2.85".to_owned(), ..ListRequest::default() };
    /// let list = book.list(&request).await.unwrap();
    /// assert!(list.lines.is_empty() && list.next.is_none());
    /// # });
    /// ```
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn list(&self, request: &ListRequest) -> Result<OrderList, BookError> {
        let at_most = request.at_most.clamp(1, LONGEST_PAGE);
        let start = request.after.unwrap_or(Cursor::BEGINNING);
        let terms = terms_of(&request.search);
        if terms.is_empty() {
            let lines = if request.search.trim().is_empty() {
                self.filtered(request, start, at_most + 1).await?
            } else {
                // Marks alone are in no word.
                Vec::new()
            };
            return Ok(page(lines, at_most));
        }
        let mut counted = Vec::with_capacity(terms.len());
        for term in terms {
            counted.push((self.count_up_to_narrow(&term).await?, term));
        }
        counted.sort_by_key(|(count, _)| *count);
        let rarest = counted[0].0;
        let terms: Vec<Term> = counted.into_iter().map(|(_, term)| term).collect();
        let found = if rarest <= NARROW && request.sort == Sort::LastChanged {
            Some(self.among_the_rarest(request, &terms, start, at_most + 1).await?)
        } else {
            self.middling(request, &terms, rarest <= NARROW, start, at_most + 1).await?
        };
        if let Some(lines) = found {
            return Ok(page(lines, at_most));
        }
        self.walk(request, &terms, start, at_most).await
    }

    /// How many orders there are in each state.
    ///
    /// Numbers are given without a gap and no order is ever removed, which [`Book::check`] looks at. So only the orders that are
    /// not closed are counted, which are few in an old book, and the closed ones are the rest.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn count_by_state(&self) -> Result<Vec<(State, i64)>, BookError> {
        let mut statement = Statement::default();
        let others: Vec<&'static str> =
            State::ALL.into_iter().filter(|state| *state != State::Closed).map(State::key).collect();
        statement.add("SELECT o.state, COUNT(*) FROM orders o WHERE 1 = 1").one_of("o.state", &others);
        statement.add(" GROUP BY o.state UNION ALL SELECT 'all', COALESCE(MAX(o.number), 0) FROM orders o");
        let mut rest = 0;
        let mut counts: Vec<(State, i64)> = State::ALL.map(|state| (state, 0)).to_vec();
        for row in self.database.rows(&statement.text, &statement.values).await? {
            let (key, count) = (row.text(0)?, row.integer(1)?);
            if let Some(place) = counts.iter_mut().find(|(state, _)| state.key() == key) {
                place.1 = count;
                rest -= count;
            } else {
                rest += count;
            }
        }
        if let Some(closed) = counts.iter_mut().find(|(state, _)| *state == State::Closed) {
            closed.1 = rest;
        }
        Ok(counts)
    }

    pub(super) async fn lines(&self, statement: &Statement) -> Result<Vec<OrderLine>, BookError> {
        let rows = self.database.rows(&statement.text, &statement.values).await?;
        rows.iter().map(OrderLine::of_row).collect()
    }

    /// Orders by state and verdict alone: the first of each pair out of its index, then the first of all.
    async fn filtered(
        &self,
        request: &ListRequest,
        start: Cursor,
        at_most: usize,
    ) -> Result<Vec<OrderLine>, BookError> {
        let mut statement = Statement::default();
        if request.states.is_empty() && request.judgements.is_empty() {
            statement.add("SELECT ").add(LINE_COLUMNS).add(" FROM orders o WHERE ").behind(start, request.sort);
            statement.sorted(request.sort).add(" LIMIT ").bind(limit(at_most));
            return self.lines(&statement).await;
        }
        let all_states: &[State] = &State::ALL;
        let all_judgements: &[Judgement] = &Judgement::ALL;
        let states = if request.states.is_empty() { all_states } else { &request.states };
        let judgements = if request.judgements.is_empty() { all_judgements } else { &request.judgements };
        statement.add("SELECT ").add(LINE_COLUMNS).add(" FROM (");
        let mut first = true;
        for state in states {
            for judgement in judgements {
                statement.add(if first { "" } else { " UNION ALL " });
                first = false;
                statement.add("SELECT * FROM (SELECT o.number FROM orders o WHERE o.state = ").bind(state.key());
                statement.add(" AND o.verdict = ").bind(judgement.words()).add(" AND ").behind(start, request.sort);
                statement.sorted(request.sort).add(" LIMIT ").bind(limit(at_most)).add(") one");
            }
        }
        // A state that is named twice must not show its orders twice.
        statement.add(") chosen JOIN orders o ON o.number = chosen.number");
        statement.sorted(request.sort).add(" LIMIT ").bind(limit(2 * at_most));
        let mut lines = self.lines(&statement).await?;
        lines.dedup_by_key(|line| line.number);
        lines.truncate(at_most);
        Ok(lines)
    }

    /// How many entries a term has, counted no further than is needed.
    async fn count_up_to_narrow(&self, term: &Term) -> Result<i64, BookError> {
        let mut statement = Statement::default();
        statement
            .add("SELECT COUNT(*) FROM (SELECT 1 FROM ")
            .entries(term)
            .add(" LIMIT ")
            .bind(NARROW + 1)
            .add(") counted");
        let row = self.database.row(&statement.text, &statement.values).await?;
        row.map_or(Ok(0), |row| row.integer(0))
    }

    /// Looks at every order that has the rarest term, the first of `terms`.
    async fn among_the_rarest(
        &self,
        request: &ListRequest,
        terms: &[Term],
        start: Cursor,
        at_most: usize,
    ) -> Result<Vec<OrderLine>, BookError> {
        let Some((rarest, others)) = terms.split_first() else { return Ok(Vec::new()) };
        let mut statement = Statement::default();
        statement.add("SELECT ").add(LINE_COLUMNS).add(" FROM (SELECT DISTINCT entry.order_number AS number FROM ");
        statement.entries(rarest);
        // The cross join keeps this order: first the few, then each of them in `orders`.
        statement.add(") few CROSS JOIN orders o WHERE o.number = few.number AND ").behind(start, request.sort);
        for term in others {
            statement.has(term);
        }
        narrowed(&mut statement, request);
        statement.sorted(request.sort).add(" LIMIT ").bind(limit(at_most));
        self.lines(&statement).await
    }

    /// Walks the orders from `start` on, a step at a time.
    async fn walk(
        &self,
        request: &ListRequest,
        terms: &[Term],
        start: Cursor,
        at_most: usize,
    ) -> Result<OrderList, BookError> {
        let mut lines = Vec::new();
        let mut from = start;
        let mut walked = 0;
        loop {
            let end = self.end_of_step(from, request.sort).await?;
            let mut statement = Statement::default();
            statement.add("SELECT ").add(LINE_COLUMNS).add(" FROM (SELECT o.number FROM orders o WHERE ");
            statement.behind(from, request.sort).sorted(request.sort).add(" LIMIT ").bind(STEP);
            statement.add(") step CROSS JOIN orders o WHERE o.number = step.number");
            for term in terms {
                statement.has(term);
            }
            narrowed(&mut statement, request);
            statement.sorted(request.sort).add(" LIMIT ").bind(limit(at_most + 1 - lines.len()));
            lines.extend(self.lines(&statement).await?);
            walked += STEP;
            if lines.len() > at_most {
                return Ok(page(lines, at_most));
            }
            match end {
                None => return Ok(page(lines, at_most)),
                Some(end) if walked >= WALK => return Ok(OrderList { lines, next: Some(end), cut_short: true }),
                Some(end) => from = end,
            }
        }
    }

    /// The last order of a step; none where the orders end within it.
    async fn end_of_step(&self, from: Cursor, sort: Sort) -> Result<Option<Cursor>, BookError> {
        let mut statement = Statement::default();
        statement.add("SELECT o.changed_at, o.number FROM orders o WHERE ").behind(from, sort).sorted(sort);
        statement.add(" LIMIT 1 OFFSET ").bind(STEP - 1);
        let row = self.database.row(&statement.text, &statement.values).await?;
        row.map(|row| Ok(Cursor { changed_at: row.integer(0)?, number: row.integer(1)? })).transpose()
    }
}

/// Only the states and verdicts that are asked for.
pub(super) fn narrowed(statement: &mut Statement, request: &ListRequest) {
    let states: Vec<&'static str> = request.states.iter().map(|state| state.key()).collect();
    let judgements: Vec<&'static str> = request.judgements.iter().map(|one| one.words()).collect();
    statement.one_of("o.state", &states).one_of("o.verdict", &judgements);
}

pub(super) fn limit(at_most: usize) -> i64 {
    i64::try_from(at_most).unwrap_or(i64::MAX)
}

/// Cuts the line off that only shows that there is a next page.
pub(super) fn page(mut lines: Vec<OrderLine>, at_most: usize) -> OrderList {
    let more = lines.len() > at_most;
    lines.truncate(at_most);
    let next = lines
        .last()
        .filter(|_| more)
        .map(|line| Cursor { changed_at: line.changed_at.as_microsecond(), number: line.number });
    OrderList { lines, next, cut_short: false }
}
