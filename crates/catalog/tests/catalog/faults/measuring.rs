//! Faults of instruments, measurands and mistakes.

use crate::files::{expect_fault, with};

#[test]
fn instruments() {
    let file = "instruments.toml";
    let row = |rest: &str| format!("[[instrument]]\nname = \"caliper\"\n{rest}\nsource = \"shop: x\"\n");
    expect_fault(
        file,
        &row("standard_uncertainty = §'0.002\"'\nhalf_width = '0.002\"'"),
        "both a standard uncertainty and a half width",
        "standard_uncertainty alone",
    );
    expect_fault(
        file,
        "§[[instrument]]\nname = \"new\"\nstep = \"1 mm\"\nsource = \"shop: x\"\n",
        "nothing says how far the instrument may be off",
        "standard_uncertainty or half_width",
    );
    expect_fault(
        file,
        // It gives a standard uncertainty; one part of a half width is not enough to replace it.
        "§[[instrument]]\nname = \"eye\"\nshape = \"arcsine\"\nsource = \"shop: x\"\n",
        "`half_width` is missing",
        "half_width",
    );
    expect_fault(file, &row("shape = §\"square\""), "is not known for `shape`", "\"rectangular\", \"triangular\"");
    expect_fault(file, &row("step = \"§-1 mm\""), "a length is not negative", "a length of nought or more");
    expect_fault(file, &row("half_width = §\"0 mm\""), "a size of nothing", "larger than 0");
    expect_fault(
        file,
        "[[instrument]]\nname = \"steel rule\"\nremove = §true\n",
        "overall_length still names the instrument \"steel rule\"",
        "another instrument in measurands.toml first",
    );
}

#[test]
fn measurands() {
    let file = "measurands.toml";
    let row = |rest: &str| format!("[reach]\n{rest}\nsource = \"shop: x\"\n");
    expect_fault(file, "[§raech]\nsource = \"shop: x\"\n", "there is no measurand \"raech\"", "reach, perhaps");
    expect_fault(file, "reach = §28\n", "`reach`", "a table");
    expect_fault(
        file,
        &row("instrument = §\"tapes\""),
        "\"tapes\" is not known for `instrument`, did you mean \"tape\"?",
        "\"tape\", \"metric tape, class I\"",
    );
    expect_fault(file, &row("better_instrument = §\"laser\""), "\"laser\" is not known", "\"steel rule\"");
    expect_fault(file, &row("sides = §\"both\""), "is not known for `sides`", "\"each\", \"whole\", \"either\"");
    expect_fault(
        file,
        &row("usual = §['5\"', '31\"']"),
        "the usual range leaves the accepted one",
        "a usual range within the accepted one",
    );
    expect_fault(file, &row("usual = §['28\"', '28\"']"), "the usual range is a single size", "two different sizes");
    expect_fault(
        file,
        &row("accepted = §['60\"', '6\"']"),
        "the smallest is larger than the largest",
        "the smallest first",
    );
    expect_fault(file, &row("accepted = [§'0\"', '60\"']"), "a size of nothing", "larger than 0");
    expect_fault(file, &row("effort_minutes = §0"), "0 is out of range", "a number larger than 0, up to 240");
    expect_fault(file, &row("how = §\"\""), "`how` is empty", "text that is not empty");
    expect_fault(
        file,
        "[tooth_count]\nusual = [§26.5, 36]\nsource = \"shop: x\"\n",
        "\"26.5\" is not a whole number",
        "28",
    );
}

#[test]
fn a_measurand_may_name_an_instrument_of_the_shop() {
    let laser =
        "[[instrument]]\nname = \"laser\"\nstandard_uncertainty = \"0.5 mm\"\nstep = \"1 mm\"\nsource = \"shop: x\"\n";
    let reach = "[reach]\nbetter_instrument = \"laser\"\nsource = \"shop: x\"\n";
    let files = [("measurands.toml", reach), ("instruments.toml", laser)].map(|(a, b)| (a.to_owned(), b.to_owned()));
    let catalog = catalog::Catalog::with_folder(&files).unwrap();
    let row = catalog.measurand(catalog::Measurand::Reach);
    assert_eq!(catalog.better_instrument(row).name, "laser");
}

fn mistake(rest: &str) -> String {
    format!("[rust_or_paint]\n{rest}\nsource = \"shop: x\"\n")
}

#[test]
fn rates() {
    let file = "mistakes.toml";
    expect_fault(file, &mistake("rate = §0.21"), "`rate` lies outside its limits", "0 to 0.2");
    expect_fault(file, &mistake("rate = §-0.01"), "`rate` lies outside its limits", "0 to 0.2");
    expect_fault(file, &mistake("rate_when = { rusty = §0.3 }"), "`rusty` lies outside its limits", "0 to 0.2");
    expect_fault(file, &mistake("rate_when = { §rusti = 0.1 }"), "there is no condition \"rusti\"", "rusty, perhaps");
    expect_fault(
        file,
        &mistake("rate = 0.1\nrate_when = §{ rusty = 0.05 }"),
        "a rate of 0.05 under a condition is below the usual rate of 0.1",
        "a rate from 0.1 to 0.2",
    );
}

/// The shipped rates of an overall length, 0.039 without those of geometry, grow past one half; the fault stands at the
/// last rate that did it.
#[test]
fn rates_that_leave_no_reading_to_believe() {
    let row = |key: &str, mark: &str| format!("[{key}]\nrate = {mark}0.2\nsource = \"shop: x\"\n");
    let text = row("tick_slip", "") + &row("anything", "") + &row("hook_bent", "§");
    expect_fault(
        "mistakes.toml",
        &text,
        "of the readings of overall_length would be mistaken",
        "rates that add up to 0.5 at most",
    );
    let two = row("tick_slip", "") + &row("anything", "");
    assert!(with("mistakes.toml", &two).is_ok());
}

#[test]
fn what_a_mistake_spoils() {
    let file = "mistakes.toml";
    expect_fault(file, "[§rust]\nsource = \"shop: x\"\n", "there is no mistake \"rust\"", "one of wrong_flange_face");
    expect_fault(
        file,
        &mistake("spoils = [\"flange_diameter\", §\"jornal_diameter\"]"),
        "did you mean \"journal_diameter\"?",
        "\"overall_length\"",
    );
    expect_fault(file, &mistake("spoils = [\"every length\", §\"reach\"]"), "named twice", "each measurand once");
    expect_fault(file, &mistake("spoils = §\"reach\""), "`spoils`", "a list in brackets");
}

#[test]
fn sizes() {
    let file = "mistakes.toml";
    expect_fault(
        file,
        &mistake("sizes = §[{ size = \"+1 mm\", share = 0.5 }, { size = \"-1 mm\", share = 0.4 }]"),
        "the shares add up to 0.9",
        "shares that add up to 1",
    );
    expect_fault(file, &mistake("sizes = [{ size = \"+1 mm\", share = §0 }]"), "0 is out of range", "larger than 0");
    expect_fault(file, &mistake("sizes = [§{ size = \"+1 mm\" }]"), "`share` is missing", "share");
    expect_fault(file, &mistake("spread = \"§-1 mm\""), "a length is not negative", "a length of nought or more");
}
