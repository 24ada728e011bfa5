//! The program as a shell sees it: arguments, streams and exit status.

#![allow(clippy::unwrap_used, reason = "a test may fail where it stands")]

use std::path::{Path, PathBuf};
use std::process::Stdio;

use assert_cmd::Command;
use serde_json::Value;

/// A sheet from which one can cut nothing yet, but which has no fault.
const SHORT_SHEET: &str = r#"
[order]
reference = "KB-0001"
use = "street"
unit = "in"
sides = ["left", "right"]

[left]
overall_length = '31 5/16"'
"#;

/// Five faults, each on a line of its own.
const FAULTY_SHEET: &str = r#"
[order]
reference = "KB-0002"
use = "parade"
unit = "in"
sides = ["left", "right"]

[shared]
shoulder_distanse = "2.31"
tooth_count = "many"

[left]
overall_length = "31 5/16 yards"
brake_offset = { value = "2.5", instrument = "sextant" }
"#;

fn program() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_axlewright"));
    command.env_remove("NO_COLOR").env_remove("CLICOLOR_FORCE");
    command
}

/// A folder with sheets in it.
struct Sheets {
    folder: tempfile::TempDir,
}

impl Sheets {
    fn new() -> Self {
        let sheets = Self { folder: tempfile::tempdir().unwrap() };
        std::fs::write(sheets.path("short.toml"), SHORT_SHEET).unwrap();
        std::fs::write(sheets.path("faulty.toml"), FAULTY_SHEET).unwrap();
        sheets
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }
}

/// What a run left behind.
struct Run {
    status: i32,
    out: String,
    error: String,
}

fn run(command: &mut Command) -> Run {
    let output = command.output().unwrap();
    Run {
        status: output.status.code().unwrap(),
        out: String::from_utf8(output.stdout).unwrap(),
        error: String::from_utf8(output.stderr).unwrap(),
    }
}

fn schema() -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/review.schema.json");
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn assert_satisfies_schema(text: &str) -> Value {
    let output: Value = serde_json::from_str(text).unwrap();
    let validator = jsonschema::validator_for(&schema()).unwrap();
    let faults: Vec<String> = validator.iter_errors(&output).map(|error| error.to_string()).collect();
    assert_eq!(faults, Vec::<String>::new());
    output
}

#[test]
fn an_order_that_lacks_readings_is_to_be_asked_about() {
    let sheets = Sheets::new();
    let run = run(program().arg("check").arg(sheets.path("short.toml")));
    assert_eq!(run.status, 1, "{}", run.error);
    assert_eq!(run.error, "");
    assert!(run.out.contains("KB-0001  ASK: something has to be asked first"), "{}", run.out);
    assert!(run.out.contains("What to ask next"), "{}", run.out);
    assert_eq!(run.out.matches("Work on rated stands.").count(), 1);
}

#[test]
fn every_fault_of_a_sheet_is_named_with_its_place() {
    let sheets = Sheets::new();
    let run = run(program().arg("check").arg(sheets.path("faulty.toml")));
    assert_eq!(run.status, 2);
    assert_eq!(run.out, "");
    let name = sheets.path("faulty.toml").display().to_string();
    let places: Vec<&str> = run.error.lines().filter_map(|line| line.strip_prefix(&format!("{name}:"))).collect();
    let lines: Vec<&str> = places.iter().filter_map(|place| place.split(':').next()).collect();
    assert_eq!(lines, ["4", "9", "10", "13", "14"], "{}", run.error);
    // The offending word of the first fault begins in the eighth column, after `use = "`.
    assert!(places[0].starts_with("4:"), "{}", run.error);
    assert!(run.error.contains("shoulder_distance"), "the nearest key is not offered:\n{}", run.error);
    assert_eq!(run.error.matches("accepted: ").count(), 5, "{}", run.error);
}

#[test]
fn a_faulty_sheet_does_not_hide_the_others() {
    let sheets = Sheets::new();
    let names = ["short.toml", "faulty.toml", "absent.toml", "short.toml"];
    let run = run(program().arg("check").args(names.map(|name| sheets.path(name))));
    assert_eq!(run.status, 2);
    assert_eq!(run.out.matches("KB-0001  ASK").count(), 2, "{}", run.out);
    assert!(run.out.contains("NOT REVIEWED: 5 faults, listed on the error output"), "{}", run.out);
    assert!(run.out.contains("NOT REVIEWED: 1 fault, listed on the error output"), "{}", run.out);
    assert!(run.out.contains("4 sheets: 0 cut, 2 ask, 0 stop, 2 could not be read"), "{}", run.out);
    assert!(run.error.contains("faulty.toml:4:"), "{}", run.error);
    assert!(
        run.error.contains("absent.toml: there is no such file or folder\n  accepted: an order sheet"),
        "{}",
        run.error
    );
    assert_eq!(run.out.matches("Work on rated stands.").count(), 1, "{}", run.out);
}

#[test]
fn one_sheet_gives_an_object_and_several_give_an_array() {
    let sheets = Sheets::new();
    let check = || {
        let mut command = program();
        command.args(["check", "--format", "json"]);
        command
    };
    let one = run(check().arg(sheets.path("short.toml")));
    assert_eq!(one.status, 1);
    let review = assert_satisfies_schema(&one.out);
    assert_eq!(review["verdict"], "ask");
    assert_eq!(review["fit_probability"], Value::Null);
    assert_eq!(review["readings"][0]["line"], 9);

    let several = run(check().args(["short.toml", "faulty.toml", "absent.toml"].map(|name| sheets.path(name))));
    assert_eq!(several.status, 2);
    let list = assert_satisfies_schema(&several.out);
    assert_eq!(list.as_array().unwrap().len(), 3);
    assert_eq!(list[0], review);
    assert_eq!(list[1]["sheet"], sheets.path("faulty.toml").display().to_string());
    let faults = list[1]["faults"].as_array().unwrap();
    let lines: Vec<u64> = faults.iter().filter_map(|fault| fault["line"].as_u64()).collect();
    assert_eq!(lines, [4, 9, 10, 13, 14]);
    assert!(faults.iter().all(|fault| fault["column"].as_u64() >= Some(1)));
    assert_eq!(faults[0]["offending"], "\"parade\"");
    assert_eq!(list[2]["faults"][0]["line"], Value::Null);
    assert!(several.error.contains("faulty.toml:14:"), "{}", several.error);
}

#[test]
fn the_same_sheet_gives_the_same_bytes() {
    let sheets = Sheets::new();
    for format in ["text", "json"] {
        let once = || run(program().args(["check", "--format", format]).arg(sheets.path("short.toml"))).out;
        let first = once();
        assert!(!first.is_empty());
        for _ in 0..3 {
            assert_eq!(once(), first);
        }
    }
}

#[test]
fn a_catalog_that_cannot_be_used_stops_the_run() {
    let sheets = Sheets::new();
    let check = |catalog: &str| {
        run(program().arg("check").arg(sheets.path("short.toml")).arg("--catalog").arg(sheets.path(catalog)))
    };
    let absent = check("absent");
    assert_eq!((absent.status, absent.out.as_str()), (2, ""));
    assert!(absent.error.contains("absent: there is no such file or folder"), "{}", absent.error);

    std::fs::create_dir(sheets.path("empty")).unwrap();
    let empty = check("empty");
    assert_eq!((empty.status, empty.out.as_str()), (2, ""));
    assert!(empty.error.contains("the folder holds no *.toml file"), "{}", empty.error);

    std::fs::create_dir(sheets.path("bad")).unwrap();
    std::fs::write(sheets.path("bad/studs.toml"), "[[stud]]\nthread = \"left-handed\"\n").unwrap();
    std::fs::write(sheets.path("bad/bearings.toml"), "[[bearing]]\nname = \"a\"\nbore = \"wide\"\n").unwrap();
    let bad = check("bad");
    assert_eq!((bad.status, bad.out.as_str()), (2, ""));
    assert!(bad.error.contains("studs.toml:2:"), "{}", bad.error);
    assert!(bad.error.contains("bearings.toml:3:"), "{}", bad.error);

    let file = check("short.toml");
    assert_eq!((file.status, file.out.as_str()), (2, ""));
    assert!(file.error.contains("this is a file"), "{}", file.error);
}

#[test]
fn a_shops_own_catalog_shapes_the_review() {
    let sheets = Sheets::new();
    std::fs::create_dir(sheets.path("own")).unwrap();
    let own = "[overall_length]\nhow = \"Measure on our bench.\"\nsource = \"shop: our bench\"\n";
    std::fs::write(sheets.path("own/measurands.toml"), own).unwrap();
    let shipped = run(program().arg("check").arg(sheets.path("short.toml")));
    assert!(!shipped.out.contains("Measure on our bench."), "{}", shipped.out);
    let own = run(program().arg("check").arg(sheets.path("short.toml")).arg("--catalog").arg(sheets.path("own")));
    assert_eq!(own.status, 1, "{}", own.error);
    assert!(own.out.contains("Measure on our bench."), "{}", own.out);
}

#[test]
fn the_same_seed_simulates_the_same_orders_on_any_number_of_cores() {
    let simulate = |seed: &str, cores: &str| {
        run(program().args(["simulate", "--orders", "24", "--seed", seed]).env("RAYON_NUM_THREADS", cores))
    };
    let (one, two, other) = (simulate("3", "1"), simulate("3", "2"), simulate("4", "2"));
    assert_eq!(one.status, 0, "{}", one.error);
    assert!(one.out.contains("24 simulated orders, full sheets, seed 3"), "{}", one.out);
    assert!(one.out.contains("the classical tests"), "{}", one.out);
    assert_eq!(one.out, two.out);
    assert_ne!(one.out, other.out);
    let refused = run(program().args(["simulate", "--noise", "-1"]));
    assert_eq!((refused.status, refused.out.as_str()), (2, ""));
    let refused = run(program().args(["simulate", "--gross", "0.9"]));
    assert_eq!(refused.status, 2);
    assert!(refused.error.contains("a number from 0 to 0.5"), "{}", refused.error);
}

#[test]
fn explain_says_what_was_taken_for_a_brake_that_is_not_named() {
    let sheets = Sheets::new();
    let explain = |brake: &str| {
        let reading = "[shared]\nregister_diameter = { value = \"2.779\", instrument = \"micrometer\" }\n";
        let head = "[order]\nreference = \"KB-7\"\nuse = \"street\"\nunit = \"in\"\nsides = [\"left\"]\n";
        std::fs::write(sheets.path("register.toml"), format!("{head}{brake}{reading}")).unwrap();
        run(program().arg("explain").arg(sheets.path("register.toml")).arg("register_diameter"))
    };
    let said = "the sheet does not say drum or disc";
    let (unnamed, named) = (explain(""), explain("[brake]\nkind = \"disc\"\n"));
    assert_eq!((unnamed.status, named.status), (0, 0), "{}{}", unnamed.error, named.error);
    assert!(unnamed.out.contains(said), "{}", unnamed.out);
    assert!(!named.out.contains(said), "{}", named.out);
}

#[test]
fn explain_answers_for_the_side_that_is_named() {
    let sheets = Sheets::new();
    let run_explain = |arguments: &[&str]| run(program().arg("explain").arg(sheets.path("short.toml")).args(arguments));
    let left = run_explain(&["overall_length", "--side", "left"]);
    assert_eq!(left.status, 0, "{}", left.error);
    assert!(left.out.contains("overall length, left: would be cut"), "{}", left.out);
    assert!(left.out.contains("Not released: the verdict on the order is ASK."), "{}", left.out);
    assert!(left.out.contains("How the size came about"), "{}", left.out);
    assert!(!left.out.contains("overall length, right: would be cut"), "{}", left.out);

    let json = run_explain(&["overall_length", "--side", "left", "--format", "json"]);
    let explained = assert_satisfies_schema(&json.out);
    assert_eq!(explained["explained"].as_array().unwrap().len(), 1);
    assert_eq!(explained["explained"][0]["side"], "left");
    assert!(!explained["explained"][0]["trace"].as_array().unwrap().is_empty());
}

#[test]
fn explain_says_which_sizes_there_are() {
    let sheets = Sheets::new();
    let absent = run(program().arg("explain").arg(sheets.path("short.toml")).arg("register_diameter"));
    assert_eq!((absent.status, absent.out.as_str()), (2, ""));
    assert!(absent.error.contains("the review of KB-0001 holds no register diameter"), "{}", absent.error);
    assert!(absent.error.contains("missing: nothing on the sheet gives the register diameter"), "{}", absent.error);
    assert!(absent.error.contains("accepted: overall_length"), "{}", absent.error);

    let mistyped = run(program().arg("explain").arg(sheets.path("short.toml")).arg("overal_lenght"));
    assert_eq!((mistyped.status, mistyped.out.as_str()), (2, ""));
    assert!(mistyped.error.contains("a similar value exists: 'overall_length'"), "{}", mistyped.error);

    let faulty = run(program().arg("explain").arg(sheets.path("faulty.toml")).arg("bolt_circle"));
    assert_eq!((faulty.status, faulty.out.as_str()), (2, ""));
    assert!(faulty.error.contains("faulty.toml:4:"), "{}", faulty.error);
}

#[test]
fn colour_comes_only_where_it_is_wanted() {
    let sheets = Sheets::new();
    let check = |arguments: &[&str]| run(program().arg("check").arg(sheets.path("short.toml")).args(arguments)).out;
    let plain = check(&[]);
    assert!(!plain.contains('\u{1b}'), "colour in a pipe");
    assert_eq!(check(&["--colour", "never"]), plain);
    let coloured = check(&["--colour", "always"]);
    assert!(coloured.contains('\u{1b}'), "no colour although it is wanted always");
    assert_eq!(anstream::adapter::strip_str(&coloured).to_string(), plain);
    let json =
        run(program().args(["check", "--format", "json", "--colour", "always"]).arg(sheets.path("short.toml"))).out;
    assert!(!json.contains('\u{1b}'), "colour in JSON");
}

#[test]
fn help_teaches_by_examples() {
    for arguments in [vec!["--help"], vec!["check", "--help"], vec!["explain", "--help"], vec!["help", "man"]] {
        let help = run(program().args(&arguments));
        assert_eq!(help.status, 0);
        assert!(help.out.contains("Example"), "{arguments:?}: {}", help.out);
        assert!(help.out.contains("  axlewright "), "{arguments:?}: {}", help.out);
    }
    let check = run(program().args(["check", "--help"])).out;
    assert!(check.contains("Exit status:"), "{check}");
    let nothing = run(&mut program());
    assert_eq!((nothing.status, nothing.out.as_str()), (2, ""));
    assert!(nothing.error.contains("Usage: axlewright"), "{}", nothing.error);
}

#[test]
fn the_program_describes_itself() {
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let script = run(program().args(["completions", shell]));
        assert_eq!(script.status, 0);
        assert!(script.out.contains("explain"), "{shell} does not complete commands");
        // The generators for the other shells complete no values of arguments without a flag.
        if ["bash", "zsh"].contains(&shell) {
            assert!(script.out.contains("seal_journal_diameter"), "{shell} does not complete sizes");
        }
    }
    let page = run(program().arg("man"));
    assert!(page.out.contains(".TH axlewright 1"), "{}", page.out);
    let page = run(program().args(["man", "check"]));
    assert!(page.out.contains("axlewright\\-check"), "{}", page.out);
    assert!(page.out.contains("\\-\\-catalog"), "{}", page.out);
    let printed = run(program().arg("schema"));
    assert_eq!(serde_json::from_str::<Value>(&printed.out).unwrap(), schema());
}

#[test]
fn a_plot_goes_to_standard_output_and_says_what_it_lacks() {
    let wagon = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/orders/02-market-wagon.toml");
    let drawn = run(program().arg("plot").arg(&wagon));
    assert_eq!((drawn.status, drawn.error.as_str()), (0, ""));
    assert!(drawn.out.starts_with("<svg ") && drawn.out.ends_with("</svg>\n"));
    assert_eq!(run(program().arg("plot").arg(&wagon)).out, drawn.out);

    let sheets = Sheets::new();
    let short = run(program().arg("plot").arg(sheets.path("short.toml")));
    assert_eq!((short.status, short.out.as_str()), (2, ""));
    assert!(short.error.contains("the shaft does not yield needs the shoulder distance"), "{}", short.error);
    assert!(short.error.contains("accepted: "), "{}", short.error);
    let faulty = run(program().arg("plot").arg(sheets.path("faulty.toml")));
    assert_eq!((faulty.status, faulty.out.as_str()), (2, ""));
    assert!(faulty.error.contains("shoulder_distanse"), "{}", faulty.error);
}

#[test]
fn a_reader_that_has_seen_enough_causes_no_panic() {
    let sheets = Sheets::new();
    let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_axlewright"))
        .arg("check")
        .arg(sheets.path("short.toml"))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(String::from_utf8(output.stderr).unwrap(), "");
    assert_eq!(output.status.code(), Some(2));
}
