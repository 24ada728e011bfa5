//! The calculations alone.

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use calculation::{CALCULATORS, Choices, Fields, calculator};
use schemars::JsonSchema;
use serde::Serialize;

use super::answer::{Answer, ApiError, Asked, FieldFault};
use crate::desk::Desk;

/// A calculation with its fields.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct CalculatorForm {
    /// Its name in addresses.
    pub key: &'static str,
    /// Its title.
    pub title: &'static str,
    /// What it is for.
    pub purpose: &'static str,
    /// Its fields: the parameters behind the question mark.
    pub fields: Vec<CalculatorField>,
}

/// A field of a calculation.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct CalculatorField {
    /// The name of the parameter.
    pub field: String,
    /// What it is.
    pub help: String,
    /// Whether nothing can be computed without it.
    pub required: bool,
    /// The values that it takes; empty where any can be read.
    pub choices: Vec<String>,
}

pub(super) async fn list(State(desk): State<Desk>) -> Answer<Vec<CalculatorForm>> {
    let marked = desk.shop().catalog();
    let forms = CALCULATORS.iter().map(|calculator| {
        let fields = calculator.field_ids().filter_map(|id| calculator.field(id, marked.catalog()));
        let fields = fields.map(|field| CalculatorField {
            choices: match field.choices {
                Choices::Free => Vec::new(),
                Choices::Words(words) => words.into_iter().map(|(value, _)| value).collect(),
            },
            field: field.id,
            help: field.help,
            required: field.required,
        });
        let (key, title, purpose) = (calculator.key, calculator.title, calculator.purpose);
        CalculatorForm { key, title, purpose, fields: fields.collect() }
    });
    Ok(Json(forms.collect()))
}

pub(super) async fn compute(
    State(desk): State<Desk>,
    Path(key): Path<String>,
    Asked(fields): Asked<Fields>,
) -> Answer<wire::Calculation> {
    let Some(calculator) = calculator(&key) else {
        let keys: Vec<&str> = CALCULATORS.iter().map(|one| one.key).collect();
        return Err(ApiError::new(StatusCode::NOT_FOUND, format!("there is no calculator {key:?}"), keys.join(", ")));
    };
    let known: Vec<&str> = calculator.field_ids().collect();
    let foreign = fields.iter().filter(|(id, _)| !known.contains(&id.as_str())).map(|(id, text)| FieldFault {
        field: Some(id.clone()),
        written: text.clone(),
        problem: "there is no such field".to_owned(),
        accepted: known.join(", "),
    });
    let foreign: Vec<FieldFault> = foreign.collect();
    let refused = |faults: Vec<FieldFault>| {
        let accepted = "the same with every field listed under `fields` mended";
        ApiError::new(StatusCode::UNPROCESSABLE_ENTITY, "some fields cannot be used", accepted).with_fields(faults)
    };
    if !foreign.is_empty() {
        return Err(refused(foreign));
    }
    let marked = desk.shop().catalog();
    let outcome = calculator.compute(&fields, marked.catalog()).map_err(|refusals| {
        let faults = refusals.iter().map(|one| FieldFault {
            field: calculator.field_of(&one.argument),
            written: one.text.clone(),
            problem: calculator.in_labels(&one.problem),
            accepted: calculator.in_labels(&one.accepted),
        });
        refused(faults.collect())
    })?;
    Ok(Json(wire::calculation(&outcome)))
}
