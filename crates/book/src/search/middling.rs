//! Searches whose terms are neither rare nor common: the numbers of the orders that have each term are fetched and held against one
//! another, which costs less than to look at the orders.

use crate::Book;
use crate::error::BookError;
use crate::order::OrderLine;

use super::list::{Cursor, ListRequest, NARROW, Sort, Statement, limit, narrowed};
use super::query::Term;

/// Terms of so many entries are not common.
const MIDDLING: i64 = 30_000;
/// The numbers of so many terms are fetched.
const MOST_LISTS: usize = 3;
/// So many orders are looked at with the first statement: enough for a page where every one is a hit.
const FIRST: usize = 60;
/// And with each further one.
const FURTHER: usize = 500;

impl Book {
    /// The page, found among the orders that have every term that is not common; none where each is common, or where too many
    /// orders would have to be looked at. Where the first term is rare, its orders alone are enough.
    pub(super) async fn middling(
        &self,
        request: &ListRequest,
        terms: &[Term],
        first_is_rare: bool,
        start: Cursor,
        at_most: usize,
    ) -> Result<Option<Vec<OrderLine>>, BookError> {
        let mut numbers: Option<Vec<i64>> = None;
        let mut left: Vec<Term> = Vec::new();
        for (index, term) in terms.iter().enumerate() {
            let wanted = if first_is_rare { index == 0 } else { index < MOST_LISTS };
            let list = if wanted { self.orders_with(term).await? } else { None };
            match (list, numbers.take()) {
                (None, standing) => {
                    left.push(term.clone());
                    numbers = standing;
                }
                (Some(list), None) => numbers = Some(list),
                (Some(list), Some(mut standing)) => {
                    standing.retain(|number| list.binary_search(number).is_ok());
                    numbers = Some(standing);
                }
            }
        }
        let Some(mut numbers) = numbers else { return Ok(None) };
        if request.sort == Sort::Newest {
            numbers.retain(|number| *number < start.number);
        }
        let is_whole_answer = request.sort == Sort::Newest
            && left.is_empty()
            && request.states.is_empty()
            && request.judgements.is_empty();
        if !is_whole_answer && numbers.len() > usize::try_from(NARROW).unwrap_or(usize::MAX) {
            return Ok(None);
        }
        numbers.reverse();
        let mut lines = Vec::new();
        let mut from = numbers.as_slice();
        let mut step = FIRST;
        while !from.is_empty() {
            let (now, rest) = from.split_at(step.min(from.len()));
            lines.extend(self.lines_of(request, &left, now, step, at_most).await?);
            if request.sort == Sort::Newest && lines.len() >= at_most {
                break;
            }
            from = rest;
            step = FURTHER;
        }
        if request.sort == Sort::LastChanged {
            let key = |line: &OrderLine| (line.changed_at.as_microsecond(), line.number);
            lines.retain(|line| key(line) < (start.changed_at, start.number));
            lines.sort_by_key(|line| std::cmp::Reverse(key(line)));
        }
        lines.truncate(at_most);
        Ok(Some(lines))
    }

    /// The numbers of the orders that have a term, the least first; none where it is common.
    async fn orders_with(&self, term: &Term) -> Result<Option<Vec<i64>>, BookError> {
        // One text for all of them: a row for each would take ten times as long.
        let mut statement = Statement::default();
        statement.add(
            "SELECT COUNT(*), string_agg(CAST(number AS TEXT), ',') FROM (SELECT entry.order_number AS number FROM ",
        );
        statement.entries(term).add(" LIMIT ").bind(MIDDLING + 1).add(") listed");
        let Some(row) = self.database.row(&statement.text, &statement.values).await? else { return Ok(None) };
        if row.integer(0)? > MIDDLING {
            return Ok(None);
        }
        let text = row.maybe_text(1)?.unwrap_or_default();
        let mut numbers: Vec<i64> = text.split(',').filter_map(|number| number.parse().ok()).collect();
        // An order is listed once for each of its words that begin alike.
        numbers.sort_unstable();
        numbers.dedup();
        Ok(Some(numbers))
    }

    /// Those of these orders that have the terms that are left, and the states and verdicts that are asked for.
    async fn lines_of(
        &self,
        request: &ListRequest,
        left: &[Term],
        numbers: &[i64],
        step: usize,
        at_most: usize,
    ) -> Result<Vec<OrderLine>, BookError> {
        let mut statement = Statement::default();
        statement.add("SELECT ").add(crate::order::LINE_COLUMNS).add(" FROM orders o WHERE o.number IN (");
        // Filled up with a number that no order has, so that there are two texts of the statement and not a text for each length.
        for index in 0..step {
            statement.add(if index > 0 { ", " } else { "" }).bind(numbers.get(index).copied().unwrap_or(0));
        }
        statement.add(")");
        for term in left {
            statement.has(term);
        }
        narrowed(&mut statement, request);
        let most = if request.sort == Sort::Newest { at_most } else { step };
        statement.add(" ORDER BY o.number DESC LIMIT ").bind(limit(most));
        self.lines(&statement).await
    }
}
