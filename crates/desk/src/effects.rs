//! What another catalog would change in the open orders, worked out in the background before anything is saved, one order at a time,
//! and no order while people are being answered if that can wait. Somebody waits for the outcome, so it is not held up by long work.

use std::sync::Arc;

use axle::{Review, Side};
use book::{BookError, Judgement, ListRequest, MarkedCatalog, ReviewedSheet, State};
use quantity::LengthExt;

use crate::desk::Desk;
use crate::error::DeskError;
use crate::shop::{Effect, OrderEffect};

/// So many orders are listed at a time.
const PAGE: usize = 200;
/// A chance that moves by less is not worth a line.
const VISIBLE_CHANCE: f64 = 0.0005;
/// A size that moves by less, in millimetres, is the same on every paper.
const VISIBLE_SIZE_MM: f64 = 0.0005;

/// Works out an effect in the background.
pub(crate) fn start(desk: &Desk, becomes: &MarkedCatalog, effect: &Arc<Effect>) {
    let (desk, becomes, effect) = (desk.clone(), becomes.clone(), effect.clone());
    tokio::spawn(async move {
        let worked = {
            let (desk, effect) = (desk.clone(), effect.clone());
            tokio::spawn(async move { work_out(&desk, &becomes, &effect).await }).await
        };
        effect.end(match worked {
            Ok(Ok(found)) => Ok(found),
            Ok(Err(error)) => Err(error.to_string()),
            Err(_) => Err("working it out ended early".to_owned()),
        });
    });
}

async fn work_out(desk: &Desk, becomes: &MarkedCatalog, effect: &Effect) -> Result<Vec<OrderEffect>, DeskError> {
    let stands = desk.shop().catalog();
    let mut numbers = Vec::new();
    let mut request = ListRequest { states: State::OPEN.to_vec(), at_most: PAGE, ..ListRequest::default() };
    loop {
        let list = desk.book().list(&request).await?;
        numbers.extend(list.lines.iter().map(|line| line.number));
        match list.next {
            Some(next) => request.after = Some(next),
            None => break,
        }
    }
    numbers.sort_unstable();
    let total = numbers.len();
    let mut found = Vec::new();
    for (done, number) in numbers.into_iter().enumerate() {
        effect.set_progress(done, total);
        desk.answering().give_way_to_people().await;
        if effect.is_broken_off() {
            break;
        }
        let order = desk.book().order(number).await?;
        let (stands, becomes) = (stands.clone(), becomes.clone());
        let reviewing = move || one(number, &order.line.reference, &order.sheet, &stands, &becomes);
        let change = tokio::task::spawn_blocking(reviewing)
            .await
            .map_err(|error| DeskError::failed(format!("a review ended early: {error}")))??;
        found.extend(change);
    }
    Ok(found)
}

/// A review as far as it is compared.
struct Told {
    judgement: Judgement,
    fit: Option<f64>,
    sizes: Vec<(String, f64)>,
    why: String,
}

/// What changes in one order; none where nothing does.
fn one(
    number: i64,
    reference: &str,
    sheet: &str,
    stands: &MarkedCatalog,
    becomes: &MarkedCatalog,
) -> Result<Option<OrderEffect>, BookError> {
    let was = told(reference, sheet, stands)?;
    let new = told(reference, sheet, becomes)?;
    let mut sizes: Vec<(String, Option<f64>, Option<f64>)> = Vec::new();
    for (words, size) in &was.sizes {
        let after = new.sizes.iter().find(|(known, _)| known == words).map(|(_, size)| *size);
        if after.is_none_or(|after| (after - size).abs() >= VISIBLE_SIZE_MM) {
            sizes.push((words.clone(), Some(*size), after));
        }
    }
    for (words, size) in &new.sizes {
        if !was.sizes.iter().any(|(known, _)| known == words) {
            sizes.push((words.clone(), None, Some(*size)));
        }
    }
    let fit_moves = match (was.fit, new.fit) {
        (Some(was), Some(new)) => (was - new).abs() >= VISIBLE_CHANCE,
        (was, new) => was.is_some() != new.is_some(),
    };
    if was.judgement == new.judgement && !fit_moves && sizes.is_empty() {
        return Ok(None);
    }
    Ok(Some(OrderEffect {
        number,
        reference: reference.to_owned(),
        was: was.judgement,
        becomes: new.judgement,
        fit_was: was.fit,
        fit_becomes: new.fit,
        sizes,
        why: new.why,
    }))
}

fn told(reference: &str, sheet: &str, catalog: &MarkedCatalog) -> Result<Told, BookError> {
    match ReviewedSheet::read(reference, sheet, catalog) {
        Ok(reviewed) => Ok(Told {
            judgement: reviewed.review.verdict.into(),
            fit: reviewed.review.fit_probability.map(|fit| fit.value),
            sizes: sizes(&reviewed.review),
            why: reviewed.review.reasons.first().map(|reason| reason.words.clone()).unwrap_or_default(),
        }),
        // A sheet that can no longer be read is no failure: it is what has to be found here.
        Err(BookError::Sheet(faults)) => Ok(Told {
            judgement: Judgement::Unreadable,
            fit: None,
            sizes: Vec::new(),
            why: faults.iter().next().map(|fault| fault.problem.clone()).unwrap_or_default(),
        }),
        Err(other) => Err(other),
    }
}

fn sizes(review: &Review) -> Vec<(String, f64)> {
    review
        .dimensions
        .iter()
        .map(|one| {
            let side = one.side.map(Side::words).map(|side| format!(", {side}")).unwrap_or_default();
            (format!("{}{side}", one.kind.words()), one.cut.millimetres())
        })
        .collect()
}
