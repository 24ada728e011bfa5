//! The one table of operations.

use axum::http::Method;
use schemars::{JsonSchema, Schema, SchemaGenerator};

use super::answer::Problem;
use super::forms::{AskedMove, ChangedOrder, NewMessage, NewOrder, SheetToReview};
use super::order_forms::{
    History, MessageWritten, OrderPage, OrderSummary, OrderWithSheet, PhotoKept, RecordWritten, SizeInspected,
};
use super::{calculators, catalog_rows, order_parts, orders, sheets, upkeep};
use crate::routes::{Routes, Who};

/// Where the document is.
pub(super) const DOCUMENT: &str = "/api/v1/openapi.json";

/// Writes a schema.
pub(super) type Writes = fn(&mut SchemaGenerator) -> Schema;

/// One operation.
pub(super) struct Operation {
    /// `GET` or `POST`.
    pub method: Method,
    /// The path, with `{name}` for what varies.
    pub path: &'static str,
    /// Who may.
    pub who: Who,
    /// Its name, for programs that are made out of the document.
    pub name: &'static str,
    /// What it does.
    pub summary: &'static str,
    /// What stands behind the question mark: name, type, what it is.
    pub query: &'static [(&'static str, &'static str, &'static str)],
    /// The body; none where nothing is sent.
    pub request: Option<Writes>,
    /// An example of the body.
    pub example: &'static str,
    /// The status of success.
    pub status: u16,
    /// The answer.
    pub response: Writes,
    /// Registers its handler.
    pub register: fn(Routes, &'static Operation) -> Routes,
}

fn schema<T: JsonSchema>(generator: &mut SchemaGenerator) -> Schema {
    generator.subschema_for::<T>()
}

/// The schema of every refusal.
pub(super) const PROBLEM: Writes = schema::<Problem>;

const READ: Operation = Operation {
    method: Method::GET,
    path: "",
    who: Who::Readers,
    name: "",
    summary: "",
    query: &[],
    request: None,
    example: "",
    status: 200,
    response: schema::<Problem>,
    register: |routes, _| routes,
};

const WRITE: Operation = Operation { method: Method::POST, who: Who::Desk, ..READ };

const QUESTIONS: &[(&str, &str, &str)] =
    &[("questions", "boolean", "Whether the questions are ranked too, which takes longer than all the rest.")];

/// Every operation.
pub(super) static OPERATIONS: [Operation; 19] = [
    Operation {
        path: "/api/v1/orders",
        name: "listOrders",
        summary: "Lists and searches orders, a page at a time.",
        query: &[
            (
                "search",
                "string",
                "Beginnings of words in reference, customer, vehicle, axle and parts; or a size: shoulder 2.85.",
            ),
            (
                "state",
                "string",
                "Only these states, separated by commas: received, questioned, approved-to-cut, in-work and so on.",
            ),
            ("verdict", "string", "Only these verdicts, separated by commas: cut, ask, stop, unreadable."),
            ("sort", "string", "newest or changed."),
            ("from", "string", "Where the page begins: `next` of the page before."),
            ("at_most", "integer", "How many orders, 1 to 200; 50 where nothing is said."),
        ],
        response: schema::<OrderPage>,
        register: |routes, it| routes.get(it.path, it.who, orders::list),
        ..READ
    },
    Operation {
        path: "/api/v1/orders",
        name: "placeOrder",
        summary: "Takes an order in.",
        request: Some(schema::<NewOrder>),
        example: r#"{"sheet": "[order]\nreference = \"Q-0901\"\n…", "customer": "Tamsin Müller", "vehicle": "hay truck", "due": "2026-04-01"}"#,
        status: 201,
        response: schema::<OrderSummary>,
        register: |routes, it| routes.post(it.path, it.who, orders::place),
        ..WRITE
    },
    Operation {
        path: "/api/v1/orders/{number}",
        name: "readOrder",
        summary: "An order with its sheet and where it may go.",
        response: schema::<OrderWithSheet>,
        register: |routes, it| routes.get(it.path, it.who, orders::read),
        ..READ
    },
    Operation {
        path: "/api/v1/orders/{number}/review",
        name: "reviewOrder",
        summary: "The review of the revision that stands.",
        query: QUESTIONS,
        response: schema::<sheets::Reviewed>,
        register: |routes, it| routes.get(it.path, it.who, sheets::of_order),
        ..READ
    },
    Operation {
        path: "/api/v1/orders/{number}/revisions",
        name: "reviseOrder",
        summary: "Writes a new revision on top of the one that was seen; 409 where somebody was first.",
        request: Some(schema::<ChangedOrder>),
        example: r#"{"seen_revision": 1, "reason": "the customer measured again", "sheet": "[order]\n…"}"#,
        response: schema::<OrderSummary>,
        register: |routes, it| routes.post(it.path, it.who, orders::revise),
        ..WRITE
    },
    Operation {
        path: "/api/v1/orders/{number}/moves",
        who: Who::Floor,
        name: "moveOrder",
        summary: "Moves an order from the state that was seen to another; the rules of the shop say who may and what it needs.",
        request: Some(schema::<AskedMove>),
        example: r#"{"seen_revision": 1, "from": "received", "to": "questioned"}"#,
        response: schema::<OrderSummary>,
        register: |routes, it| routes.post(it.path, it.who, orders::move_order),
        ..WRITE
    },
    Operation {
        path: "/api/v1/orders/{number}/messages",
        name: "listMessages",
        summary: "The messages of an order, the first one first.",
        response: schema::<Vec<MessageWritten>>,
        register: |routes, it| routes.get(it.path, it.who, order_parts::messages),
        ..READ
    },
    Operation {
        path: "/api/v1/orders/{number}/messages",
        who: Who::Floor,
        name: "writeMessage",
        summary: "Writes a message down. It is never changed and never removed.",
        request: Some(schema::<NewMessage>),
        example: r#"{"direction": "note", "words": "asked by telephone for the reach on the left"}"#,
        status: 201,
        response: schema::<MessageWritten>,
        register: |routes, it| routes.post(it.path, it.who, order_parts::write_message),
        ..WRITE
    },
    Operation {
        path: "/api/v1/orders/{number}/photos",
        name: "listPhotos",
        summary: "The photos of an order, without their pictures.",
        response: schema::<Vec<PhotoKept>>,
        register: |routes, it| routes.get(it.path, it.who, order_parts::photos),
        ..READ
    },
    Operation {
        path: "/api/v1/orders/{number}/inspections",
        name: "listInspections",
        summary: "What the floor measured on the finished shafts.",
        response: schema::<Vec<SizeInspected>>,
        register: |routes, it| routes.get(it.path, it.who, order_parts::inspections),
        ..READ
    },
    Operation {
        path: "/api/v1/orders/{number}/records",
        name: "listRecords",
        summary: "What the floor wrote down beside the sizes: heat numbers, press forces, sizes over pins.",
        response: schema::<Vec<RecordWritten>>,
        register: |routes, it| routes.get(it.path, it.who, order_parts::records),
        ..READ
    },
    Operation {
        path: "/api/v1/orders/{number}/history",
        name: "readHistory",
        summary: "Revisions, values of readings, and events of the log.",
        response: schema::<History>,
        register: |routes, it| routes.get(it.path, it.who, order_parts::history),
        ..READ
    },
    Operation {
        path: "/api/v1/review",
        who: Who::Readers,
        name: "reviewSheet",
        summary: "Reviews a sheet and keeps nothing of it.",
        request: Some(schema::<SheetToReview>),
        example: r#"{"sheet": "[order]\nreference = \"Q-0901\"\n…", "questions": true}"#,
        response: schema::<sheets::Reviewed>,
        register: |routes, it| routes.post(it.path, it.who, sheets::of_sheet),
        ..WRITE
    },
    Operation {
        path: "/api/v1/calculators",
        name: "listCalculators",
        summary: "The calculations with their fields.",
        response: schema::<Vec<calculators::CalculatorForm>>,
        register: |routes, it| routes.get(it.path, it.who, calculators::list),
        ..READ
    },
    Operation {
        path: "/api/v1/calculators/{key}",
        name: "compute",
        summary: "Computes a spline, a fit, a bolt circle, a bearing or a stud. Its fields stand behind the question mark.",
        query: &[(
            "fields",
            "object",
            "The fields of the calculation, as GET /api/v1/calculators names them: teeth=30&pitch=24/48&angle=45.",
        )],
        response: schema::<wire::Calculation>,
        register: |routes, it| routes.get(it.path, it.who, calculators::compute),
        ..READ
    },
    Operation {
        path: "/api/v1/catalog",
        name: "listCatalogKinds",
        summary: "The kinds of rows of the catalog, and its mark.",
        response: schema::<catalog_rows::CatalogKinds>,
        register: |routes, it| routes.get(it.path, it.who, catalog_rows::kinds),
        ..READ
    },
    Operation {
        path: "/api/v1/catalog/{kind}",
        name: "listCatalogRows",
        summary: "The rows of one kind, as the pages of the catalog show them: bearings, splines, steels, mistakes and nine more.",
        response: schema::<Vec<catalog_rows::CatalogRow>>,
        register: |routes, it| routes.get(it.path, it.who, catalog_rows::rows),
        ..READ
    },
    Operation {
        path: "/api/v1/book/check",
        who: Who::Owner,
        name: "checkBook",
        summary: "Walks the whole log and holds the book against it. It takes as long as the book is large.",
        response: schema::<upkeep::BookChecked>,
        register: |routes, it| routes.get(it.path, it.who, upkeep::check),
        ..READ
    },
    Operation {
        path: "/api/v1/rereview",
        name: "readRereview",
        summary: "How far the reviews of open orders follow the catalog, and the latest runs.",
        response: schema::<upkeep::RereviewState>,
        register: |routes, it| routes.get(it.path, it.who, upkeep::rereview),
        ..READ
    },
];
