//! What is wrong with a truth is said at its place.

use axle::read_truth;
use catalog::Catalog;

/// Place, problem and what would be accepted, of every fault.
fn faults(text: &str) -> Vec<String> {
    let faults = read_truth("t.toml", text, &Catalog::shipped().unwrap()).unwrap_err();
    faults
        .iter()
        .map(|fault| format!("{}:{} {} | {}", fault.line, fault.column, fault.problem, fault.accepted))
        .collect()
}

fn only(text: &str, line_and_problem: &str, accepted: &str) {
    let found = faults(text);
    assert_eq!(found.len(), 1, "{found:#?}");
    let (problem, said) = found[0].split_once(" | ").unwrap();
    assert!(problem.starts_with(line_and_problem), "{problem}");
    assert!(said.contains(accepted), "{said}");
}

const HEAD: &str = "[truth]\norder = \"A\"\nunit = \"in\"\n";

#[test]
fn a_truth_that_contradicts_itself() {
    let text =
        format!("{HEAD}[shared]\nhousing_width = 55.644\n[left]\nhalf_width = 27.232\n[right]\nhalf_width = 27.412\n");
    let found = faults(&text);
    // Every size of the ring that does not close is named, because nobody knows which is wrong.
    assert_eq!(found.len(), 3, "{found:#?}");
    assert!(
        found[0].starts_with("5:17 the housing width does not go with the other true sizes: 55.644 in"),
        "{found:#?}"
    );
    assert!(found[0].ends_with("true sizes that agree within 0.030 in (0.8 mm)"), "{found:#?}");
    // A hundredth of an inch is what an old axle does.
    let sound = text.replace("27.412", "28.402");
    assert!(read_truth("t.toml", &sound, &Catalog::shipped().unwrap()).is_ok());
}

#[test]
fn a_bolt_circle_that_contradicts_its_chords() {
    let text = format!("{HEAD}[shared]\nhole_count = 5\nbolt_circle = 4.75\nchord_alternate = 4.75\n");
    let found = faults(&text);
    assert!(found.len() == 2 && found[0].contains("wheel bolt circle"), "{found:#?}");
}

#[test]
fn a_size_without_a_unit() {
    only("[truth]\norder = \"A\"\n[shared]\nflange_thickness = 0.42\n", "4:20 the length has no unit", "in");
}

#[test]
fn unknown_keys_and_names() {
    only(
        &format!("{HEAD}[shared]\nflange_thicknes = 0.42\nregister_height = 0.25\n"),
        "5:1 `flange_thicknes` is not known",
        "reading",
    );
    only(&format!("{HEAD}colour = 1\n[shared]\nregister_height = 0.25\n"), "4:1 `colour` is not known here", "order");
    only(
        &format!("{HEAD}[parts]\nbearing = \"none\"\n[shared]\nregister_height = 0.25\n"),
        "5:11 the catalog holds no bearing",
        "bearing",
    );
    only(
        &format!("{HEAD}[parts]\nwheel = \"none\"\n[shared]\nregister_height = 0.25\n"),
        "5:1 `wheel` is not known here",
        "housing_end",
    );
    only(&format!("{HEAD}[shared]\nregister_height = 0.25\n[make]\nx = 1\n"), "6:2 `make` is not known here", "shared");
}

#[test]
fn a_size_that_cannot_be_or_is_none() {
    only(
        &format!("{HEAD}[shared]\nflange_thickness = 42\n"),
        "5:20 flange thickness cannot be 42.000 in",
        "`42 mm` would lie in it",
    );
    only(
        &format!("{HEAD}[shared]\nflange_thickness = [0.42, 0.43]\n"),
        "5:20 the true flange thickness is one size",
        "one size",
    );
    only(
        &format!("{HEAD}[shared]\noverall_length = 29\n"),
        "5:1 overall length differs from side to side",
        "[left] or [right]",
    );
    only(&format!("{HEAD}[shared]\ntooth_count = 100\n"), "5:15 number of spline teeth cannot be 100", "whole number");
    only(HEAD, "1:1 no true size is stated", "[shared], [left] or [right]");
    only("[shared]\nflange_thickness = \"0.42 in\"\n", "1:1 `truth` is missing", "[truth]");
}

#[test]
fn all_faults_come_at_once() {
    let found =
        faults("[truth]\norder = \"\"\n[shared]\nflange_thickness = 0.42\nregister = 1\n[parts]\nbearing = 3\n");
    assert_eq!(found.len(), 4, "{found:#?}");
}
