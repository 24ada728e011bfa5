//! Faults of the settings.

use crate::files::expect_fault;

const FILE: &str = "settings.toml";

#[test]
fn windows() {
    expect_fault(
        FILE,
        "[clearances.end_to_pin]\nleast = §'1\"'\nsource = \"shop: x\"\n",
        "the least is larger than the most",
        "least ≤ most",
    );
    expect_fault(FILE, "§[clearances.end_to_pin]\nleast = '1/8\"'\n", "`source` is missing", "source");
    expect_fault(
        FILE,
        "[clearances.§end_to_pim]\nleast = '1/8\"'\nsource = \"shop: x\"\n",
        "did you mean `end_to_pin`?",
        "end_to_pin",
    );
}

#[test]
fn a_changed_section_needs_its_source() {
    expect_fault(FILE, "§[clearances]\nengagement_ratio = 1.1\n", "`source` is missing", "source");
    expect_fault(FILE, "§[thresholds]\ncut_at = 0.97\n", "`source` is missing", "source");
}

#[test]
fn numbers_out_of_range() {
    let threshold = |rest: &str| format!("[thresholds]\n{rest}\nsource = \"shop: x\"\n");
    expect_fault(FILE, &threshold("cut_at = §95"), "`cut_at` lies outside its limits", "0.5 to 0.9999");
    expect_fault(FILE, &threshold("questions_shown = §0"), "`questions_shown` lies outside its limits", "1 to 50");
    expect_fault(FILE, &threshold("questions_shown = §2.5"), "`questions_shown`", "without decimals");
    expect_fault(
        FILE,
        "[beliefs]\nclaim_right = §0\nsource = \"shop: x\"\n",
        "`claim_right` lies outside its limits",
        "0.5 to 0.9999",
    );
    expect_fault(
        FILE,
        "[losses]\nrework = §2\nsource = \"shop: x\"\n",
        "the losses are out of order",
        "nuisance ≤ rework ≤ scrap",
    );
}

#[test]
fn unknown_sections_and_keys() {
    expect_fault(FILE, "[§treshold]\ncut_at = 0.97\n", "did you mean `thresholds`?", "thresholds");
    expect_fault(FILE, "[losses]\n§scarp = 1\nsource = \"shop: x\"\n", "did you mean `scrap`?", "scrap");
    expect_fault(
        FILE,
        "[tolerances]\nfree_size = §'0\"'\nsource = \"shop: x\"\n",
        "a size of nothing",
        "larger than 0",
    );
}

#[test]
fn what_a_proof_goes_by() {
    expect_fault(
        "settings.toml",
        "[proof.lock_ring]\nvalue = §0.1\nsource = \"shop: x\"\n",
        "`value` lies outside its limits",
        "0.5 to 10",
    );
    expect_fault("settings.toml", "§[proof.lock_ring]\nvalue = 3\n", "`source` is missing", "source = …");
}

#[test]
fn scatter_of_readings() {
    let beliefs = |scatter: &str| format!("[beliefs]\nscatter = {scatter}\nsource = \"shop: x\"\n");
    let fault = |scatter: &str, what: &str, accepted: &str| expect_fault(FILE, &beliefs(scatter), what, accepted);
    fault("§[]", "a list of 0", "1 to 6 multiples");
    fault("§[{ multiple = 1, share = 0.5 }]", "the shares add up to 0.5", "add up to 1");
    fault(
        "§[{ multiple = 2, share = 0.5 }, { multiple = 1, share = 0.5 }]",
        "the multiples are out of order",
        "the smallest first",
    );
    fault("[{ multiple = §0, share = 1 }]", "`multiple` lies outside its limits", "0.1 to 20");
    fault("[{ multiple = 1, share = §0 }]", "0 is out of range", "larger than 0");
    fault("[§{ multiple = 1 }]", "`share` is missing", "share");
}
