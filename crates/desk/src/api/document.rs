//! The OpenAPI document, out of the table of operations.

use axum::Json;
use schemars::SchemaGenerator;
use schemars::generate::SchemaSettings;
use serde_json::{Map, Value, json};

use super::operation::{DOCUMENT, OPERATIONS, Operation, PROBLEM};
use crate::routes::Who;

/// Where the schemas stand in the document.
const SCHEMAS: &str = "/components/schemas";

pub(super) async fn document() -> Json<Value> {
    Json(written())
}

/// The whole document, as OpenAPI 3.1.1 has it.
fn written() -> Value {
    let settings = || SchemaSettings::draft2020_12().with(|settings| settings.definitions_path = SCHEMAS.into());
    let mut answers = settings().for_serialize().into_generator();
    let mut bodies = settings().into_generator();
    let problem = json!({
        "description": "Refused; `detail` says why and `accepted` what would be accepted.",
        "content": {"application/problem+json": {"schema": PROBLEM(&mut answers)}},
    });
    let mut paths = Map::new();
    for operation in &OPERATIONS {
        let path = paths.entry(operation.path).or_insert_with(|| json!({}));
        let method = operation.method.as_str().to_ascii_lowercase();
        path[method] = one(operation, &problem, &mut answers, &mut bodies);
    }
    paths.insert(
        DOCUMENT.to_owned(),
        json!({"get": {
            "operationId": "readDocument",
            "summary": "This document.",
            "responses": {"200": {"description": "The document.", "content": {"application/json": {"schema": {"type": "object"}}}}},
        }}),
    );
    let mut schemas = answers.take_definitions(true);
    schemas.extend(bodies.take_definitions(true));
    json!({
        "openapi": "3.1.1",
        "jsonSchemaDialect": "https://json-schema.org/draft/2020-12/schema",
        "info": {
            "title": "Axlewright desk",
            "version": env!("CARGO_PKG_VERSION"),
            "description": axle::CAUTIONS.iter().take(2).copied().collect::<Vec<_>>().join(" "),
        },
        "security": [{"token": []}],
        "paths": paths,
        "components": {
            "securitySchemes": {"token": {"type": "http", "scheme": "bearer", "description": "The token of an integration."}},
            "schemas": schemas,
        },
    })
}

fn one(operation: &Operation, problem: &Value, answers: &mut SchemaGenerator, bodies: &mut SchemaGenerator) -> Value {
    let mut parameters: Vec<Value> = variables(operation.path)
        .map(|name| {
            let kind =
                if name == "number" { json!({"type": "integer", "minimum": 1}) } else { json!({"type": "string"}) };
            json!({"name": name, "in": "path", "required": true, "schema": kind})
        })
        .collect();
    parameters.extend(operation.query.iter().map(|(name, kind, about)| {
        let mut schema = json!({"type": kind});
        if *kind == "object" {
            schema["additionalProperties"] = json!({"type": "string"});
        }
        let style = if *kind == "object" { json!("form") } else { Value::Null };
        let mut parameter =
            json!({"name": name, "in": "query", "required": false, "description": about, "schema": schema});
        if !style.is_null() {
            parameter["style"] = style;
            parameter["explode"] = json!(true);
        }
        parameter
    }));
    let mut written = json!({
        "operationId": operation.name,
        "summary": operation.summary,
        "description": format!("For {}.", who(operation.who)),
        "parameters": parameters,
        "responses": {
            operation.status.to_string(): {
                "description": "Done.",
                "content": {"application/json": {"schema": (operation.response)(answers)}},
            },
            "default": problem,
        },
    });
    if let Some(request) = operation.request {
        written["requestBody"] =
            json!({"required": true, "content": {"application/json": {"schema": request(bodies)}}});
    }
    written
}

/// What varies in a path.
fn variables(path: &str) -> impl Iterator<Item = &str> {
    path.split('/').filter_map(|part| part.strip_prefix('{')?.strip_suffix('}'))
}

/// Who may, in words.
pub(super) fn who(who: Who) -> String {
    match who.roles() {
        None => "everybody".to_owned(),
        Some(roles) => roles.iter().map(|role| role.words()).collect::<Vec<_>>().join(", "),
    }
}
