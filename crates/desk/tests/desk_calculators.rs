//! The calculators and the simulator as pages: the same numbers as the command line, faults beside their fields.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
#![allow(missing_docs, reason = "the names of tests say what they are for")]

mod desk_under_test;

use axum::http::StatusCode;
use calculation::{Amount, CALCULATORS, Quantity};
use clap::{Args, FromArgMatches};

use desk_under_test::{catalog, form, open_desk};

/// The numbers of a calculation as the command line writes them.
fn numbers(calculation: &calculation::Calculation) -> Vec<String> {
    let both = |quantity: Quantity| -> Vec<String> {
        let mut texts = vec![quantity.in_inch_units().number];
        if !quantity.is_plain_number() {
            texts.push(quantity.in_metric_units().number);
        }
        // On a page a minus sign is a minus sign.
        texts.into_iter().map(|text| text.replace('-', "\u{2212}")).collect()
    };
    let amounts = calculation.blocks.iter().flat_map(|block| &block.entries).map(|entry| &entry.amount);
    amounts
        .flat_map(|amount| match amount {
            Amount::One(quantity) => both(*quantity),
            Amount::Range(least, most) => [both(*least), both(*most)].concat(),
            Amount::Words(words) => vec![words.clone()],
        })
        .collect()
}

#[tokio::test]
async fn every_example_shows_the_numbers_sources_and_cautions_of_the_calculation() {
    let desk = open_desk().await;
    for calculator in &CALCULATORS {
        for example in calculator.examples() {
            let computed = calculator.compute(&example.fields, catalog().catalog()).unwrap();
            let filled: Vec<(&str, &str)> =
                example.fields.iter().map(|(id, text)| (id.as_str(), text.as_str())).collect();
            let query = form(&filled);
            let page = desk.get(&format!("/calculators/{}?{query}", calculator.key)).await;
            assert_eq!(page.status, StatusCode::OK, "{}", example.command_line);
            let text = page.text();
            for number in numbers(&computed) {
                assert!(text.contains(&number), "{} lacks {number}", example.command_line);
            }
            for block in &computed.blocks {
                let source = block.source.replace('&', "&amp;");
                assert!(text.contains(&source), "{} lacks {source}", example.command_line);
            }
            assert!(!text.contains("give --"), "{} speaks of an option", example.command_line);
            assert!(computed.cautions.iter().all(|caution| text.contains(caution)), "{}", example.command_line);
            let json = desk.get(&format!("/api/v1/calculators/{}?{query}", calculator.key)).await;
            let sent: serde_json::Value = serde_json::from_slice(&json.bytes).unwrap();
            assert_eq!(sent, serde_json::to_value(wire::calculation(&computed)).unwrap(), "{}", example.command_line);
        }
    }
}

#[test]
fn a_filled_form_computes_what_the_arguments_of_the_command_line_do() {
    let words = ["--teeth", "30", "--pitch", "24/48", "--angle", "45", "--class", "6", "--pin", "0.080", "in"];
    let command = calculation::spline::SplineArguments::augment_args(clap::Command::new("spline").no_binary_name(true));
    let matches = command.try_get_matches_from(words).unwrap();
    let arguments = calculation::spline::SplineArguments::from_arg_matches(&matches).unwrap();
    let by_command_line = calculation::spline::compute(&arguments).unwrap();
    let filled = [("teeth", "30"), ("pitch", "24/48"), ("angle", "45"), ("class", "6"), ("pin", " 0.080 in ")];
    let filled = filled.map(|(id, text)| (id.to_owned(), text.to_owned()));
    let by_form = calculation::calculator("spline").unwrap().compute(&filled, catalog().catalog()).unwrap();
    assert_eq!(by_form, by_command_line);
}

#[tokio::test]
async fn a_fault_stands_beside_its_field_and_what_was_typed_stays() {
    let desk = open_desk().await;
    let page = desk.get("/calculators/bearing?radial=4+furlongs&dynamic=30.7+kN").await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    let text = page.text();
    let fault = text.split("id=\"radial-fault\"").nth(1).unwrap().split("</div>").next().unwrap();
    assert!(fault.contains("<mark>furlongs</mark>") && fault.contains("such as 4.0 kN or 900 lbf"), "{fault}");
    assert!(text.contains("value=\"4 furlongs\"") && text.contains("value=\"30.7 kN\""));
    assert!(!text.contains("--"), "an option of the command line stands on the page");
}

#[tokio::test]
async fn hostile_fields_are_refused_and_nothing_breaks() {
    let desk = open_desk().await;
    let long = "9".repeat(4000);
    let hostile = [
        "NaN",
        "inf",
        "-1",
        "1e999",
        "--help",
        "-h",
        "--",
        "0",
        "999999999999999999999",
        "<script>alert(1)</script>",
        "\u{202e}5\u{0}",
        "५",
        "\"'&",
        long.as_str(),
    ];
    for calculator in &CALCULATORS {
        for id in calculator.field_ids() {
            for text in hostile {
                let page = desk.get(&format!("/calculators/{}?{}", calculator.key, form(&[(id, text)]))).await;
                assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{} {id} {text:.40}", calculator.key);
                assert!(!page.text().contains("<script>alert"), "{id}");
            }
        }
    }
    assert_eq!(desk.get("/calculators/nothing").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn the_simulator_refuses_what_it_cannot_use_and_counts_what_it_can() {
    let desk = open_desk().await;
    let fields = |orders| {
        [("orders", orders), ("seed", "7"), ("sheets", "lean"), ("errors", "1"), ("mistakes", "1"), ("unknown", "0")]
    };
    for orders in ["0", "-5", "NaN", "1e9", "2001", ""] {
        let page = desk.post("/simulator", &fields(orders)).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{orders}");
        assert!(page.text().contains("a whole number from 20 to 2000"), "{orders}");
    }
    let begun = desk.post("/simulator", &fields("20")).await;
    assert_eq!((begun.status, begun.header("location")), (StatusCode::SEE_OTHER, "/simulator?run=1#run"));
    loop {
        let text = desk.get("/simulator?run=1").await.text();
        if !text.contains("data-poll") {
            assert!(text.contains("20 orders, lean sheets, seed 7") && text.contains("of 20 orders lacked"), "{text}");
            break;
        }
        tokio::time::sleep(std::time::Duration::from_millis(50)).await;
    }
}
