//! The JSON, and the schema that describes it.

use std::path::Path;

use serde_json::Value;
use wire::{Output, SheetOutput};

use crate::made::{from_a_stranger, to_ask, to_cut, to_stop};

fn text(review: &axle::Review) -> String {
    Output::Sheet(SheetOutput::Review(Box::new(wire::review("order.toml", review)))).text().unwrap()
}

#[test]
fn an_order_to_ask_about() {
    insta::assert_snapshot!("json_to_ask", text(&to_ask()));
}

#[test]
fn an_order_to_stop() {
    insta::assert_snapshot!("json_to_stop", text(&to_stop()));
}

#[test]
fn the_origin_of_a_size() {
    let review = to_ask();
    let chosen: Vec<&axle::Dimension> = review.dimensions.iter().take(1).collect();
    let output = Output::Explained(wire::explained("order.toml", &review, &chosen));
    insta::assert_snapshot!("json_origin", output.text().unwrap());
}

#[test]
fn the_committed_schema_is_the_one_that_the_program_prints() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/review.schema.json");
    let committed = std::fs::read_to_string(&path).unwrap();
    let printed = wire::schema_text().unwrap();
    assert!(committed == printed, "write it anew: axlewright schema > docs/review.schema.json");
}

#[test]
fn every_review_satisfies_the_schema() {
    let schema: Value = serde_json::from_str(&wire::schema_text().unwrap()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    for review in [to_cut(), to_ask(), to_stop(), from_a_stranger()] {
        let output: Value = serde_json::from_str(&text(&review)).unwrap();
        let faults: Vec<String> = validator.iter_errors(&output).map(|error| error.to_string()).collect();
        assert_eq!(faults, Vec::<String>::new());
    }
}

#[test]
fn the_schema_refuses_what_is_no_review() {
    let schema: Value = serde_json::from_str(&wire::schema_text().unwrap()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let mut review: Value = serde_json::from_str(&text(&to_cut())).unwrap();
    assert!(validator.is_valid(&review));
    review["verdict"] = "perhaps".into();
    assert!(!validator.is_valid(&review));
    let mut review: Value = serde_json::from_str(&text(&to_cut())).unwrap();
    review["dimensions"][0]["cut"] = 764.21.into();
    assert!(!validator.is_valid(&review));
    let mut review: Value = serde_json::from_str(&text(&to_cut())).unwrap();
    review.as_object_mut().unwrap().remove("questions");
    assert!(!validator.is_valid(&review));
}

#[test]
fn what_is_short_of_certain_is_short_of_it_in_json() {
    let mut review = to_cut();
    review.conditions[0].probability = 1.0 - f64::EPSILON;
    let output: Value = serde_json::from_str(&text(&review)).unwrap();
    assert!(output["conditions"][0]["probability"].as_f64().unwrap() < 1.0);
}
