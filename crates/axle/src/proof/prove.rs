//! Puts the proof together.

use catalog::{Catalog, ProofNumber};
use quantity::{Leading, capitalised};

use super::facts::Facts;
use super::figure::{Figure, Gap, size_text};
use super::inputs::{End, Inputs, Values};
use super::loads::{Case, Cases, cases};
use super::sections::Beam;
use super::sensitivity::sensitivity;
use super::strength::{Prepared, prepare, station};
use super::{
    AssumedInput, CaseProof, LoadCase, NotProved, Outcome, Proof, ProofCheck, ProofFigure, ProofKind, SafetyRange,
    StationProof, bearing, clearance, damage, lock_ring, spline, studs,
};
use crate::blocks::Blocks;
use crate::decide::Decisions;
use crate::review::{Check, Dimension, Reason, Verdict};
use crate::sheet::Sheet;

const KINDS: [ProofKind; 8] = [
    ProofKind::Yield,
    ProofKind::Fatigue,
    ProofKind::LockRing,
    ProofKind::BearingSeat,
    ProofKind::BearingStatic,
    ProofKind::BearingLife,
    ProofKind::Spline,
    ProofKind::Studs,
];

const STRENGTH_SOURCE: &str = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th edition, chapters 6 and 7 \
     (Goodman and ASME-elliptic, the lower); notch factors after Norton and Neuber; case and core after an industrial article \
     on induction-hardened axle shafts";

impl ProofKind {
    /// What is checked, in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Yield => "the shaft does not yield",
            Self::Fatigue => "the shaft does not tire",
            Self::LockRing => "the lock ring holds the shaft in the housing",
            Self::BearingSeat => "the inner ring of the bearing does not creep on its journal",
            Self::BearingStatic => "the bearing carries the worst load",
            Self::BearingLife => "the bearing lasts as long as the shaft",
            Self::Spline => "the spline carries the torque",
            Self::Studs => "the wheel does not slip on its studs",
        }
    }

    fn fault(self) -> &'static str {
        match self {
            Self::Yield => "The shaft would yield",
            Self::Fatigue => "The shaft would tire and break",
            Self::LockRing => "The lock ring cannot hold the shaft in the housing",
            Self::BearingSeat => "The inner ring of the bearing would creep on its journal",
            Self::BearingStatic => "The bearing cannot carry the worst load",
            Self::BearingLife => "The bearing would not last as long as the shaft",
            Self::Spline => "The spline is too small for its torque",
            Self::Studs => "The wheel would slip on its studs",
        }
    }

    fn source(self) -> &'static str {
        match self {
            Self::Yield | Self::Fatigue => STRENGTH_SOURCE,
            Self::LockRing => lock_ring::SOURCE,
            Self::BearingSeat => bearing::SEAT_SOURCE,
            Self::BearingStatic => bearing::STATIC_SOURCE,
            Self::BearingLife => bearing::LIFE_SOURCE,
            Self::Spline => spline::SOURCE,
            Self::Studs => studs::SOURCE,
        }
    }

    fn required(self, rules: &catalog::Proof) -> f64 {
        let number: &ProofNumber = match self {
            Self::Yield => &rules.yield_safety,
            Self::Fatigue => &rules.fatigue_safety,
            Self::LockRing => &rules.lock_ring,
            // By the formula the ring creeps below 1.
            Self::BearingSeat => return 1.0,
            Self::BearingStatic => &rules.bearing_static,
            Self::BearingLife => &rules.bearing_life,
            Self::Spline => &rules.spline_safety,
            Self::Studs => &rules.stud_safety,
        };
        number.value
    }
}

impl LoadCase {
    /// The case in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Straight => "straight ahead",
            Self::Launch => "launch",
            Self::Braking => "braking",
            Self::CornerOuter => "corner, outer wheel",
            Self::CornerInner => "corner, inner wheel",
            Self::Bump => "kerb or bump",
            Self::Towing => "launch with a trailer",
        }
    }
}

/// Everything that the checks share at one set of inputs.
struct Setting {
    cases: Cases,
    beam: Result<Beam, Gap>,
    prepared: Result<Vec<Prepared>, Gap>,
}

impl Setting {
    /// Everything at one set of inputs, but for the strengths of the sections.
    fn of(values: &Values, facts: &Facts<'_>) -> Result<Self, Gap> {
        let cases = cases(values, facts.rules.launch_metres.value)?;
        Ok(Self { cases, beam: Beam::of(facts, values), prepared: Err(Gap::size("strengths of the sections")) })
    }

    /// The same with the strengths of the sections, which take the longest to work out.
    fn whole(values: &Values, facts: &Facts<'_>) -> Result<Self, Gap> {
        let mut setting = Self::of(values, facts)?;
        setting.prepared = setting.beam().and_then(|beam| prepare(facts, beam));
        Ok(setting)
    }

    fn beam(&self) -> Result<&Beam, Gap> {
        self.beam.as_ref().map_err(Gap::clone)
    }

    /// Every section in one case.
    fn stations(&self, case: &Case) -> Result<Vec<StationProof>, Gap> {
        let beam = self.beam()?;
        let prepared = self.prepared.as_ref().map_err(Gap::clone)?;
        prepared.iter().map(|one| station(one, beam, &case.limit, case.repeated.as_ref())).collect()
    }

    /// The weakest section over all cases.
    fn weakest(&self, fatigue: bool, leading: Leading) -> Result<Figure, Gap> {
        let mut worst: Option<(f64, StationProof, LoadCase)> = None;
        for case in &self.cases.cases {
            for one in self.stations(case)? {
                let Some(safety) = (if fatigue { one.fatigue_safety } else { Some(one.yield_safety) }) else {
                    continue;
                };
                if worst.as_ref().is_none_or(|(least, _, _)| safety < *least) {
                    worst = Some((safety, one, case.case));
                }
            }
        }
        let (safety, station, case) = worst.ok_or_else(|| Gap::size("load on the shaft"))?;
        Ok(Figure {
            safety,
            detail: format!(
                "weakest in the {}, {} thick, in the case \"{}\"",
                station.section,
                size_text(station.diameter_mm, leading),
                case.words()
            ),
            remedy: help(station.section).to_owned(),
        })
    }
}

/// What would help at a section.
fn help(section: &str) -> &'static str {
    match section {
        "flange fillet" => {
            "A larger fillet at the flange; a stronger steel; a wheel whose middle stands further inboard."
        }
        "bearing shoulder" => {
            "A larger fillet at the bearing shoulder, as far as the bearing's chamfer allows; a stronger steel; \
             a larger bearing."
        }
        "bearing seat" | "ring seat" | "step to the seal journal" => {
            "A stronger steel or a deeper hard case; a larger bearing with a thicker journal."
        }
        "body, wheel end" | "body, middle" => "A thicker body; a stronger steel or a deeper hard case.",
        _ => "A spline with more teeth; a stronger steel or a deeper hard case under its roots.",
    }
}

/// Works one check out at one set of inputs.
fn figure(kind: ProofKind, values: &Values, facts: &Facts<'_>, setting: &Result<Setting, Gap>) -> Result<Figure, Gap> {
    if kind == ProofKind::LockRing {
        return lock_ring::lock_ring(values, facts);
    }
    let setting = setting.as_ref().map_err(Gap::clone)?;
    let cases = &setting.cases;
    match kind {
        ProofKind::Yield => setting.weakest(false, facts.leading),
        ProofKind::Fatigue => setting.weakest(true, facts.leading),
        ProofKind::LockRing => lock_ring::lock_ring(values, facts),
        ProofKind::BearingSeat => bearing::seat(facts, cases, setting.beam()?),
        ProofKind::BearingStatic => bearing::at_rest(facts, cases, setting.beam()?),
        ProofKind::BearingLife => bearing::life(values, facts, cases, setting.beam()?),
        ProofKind::Spline => spline::spline(values, facts, cases),
        ProofKind::Studs => studs::studs(values, facts, cases),
    }
}

/// Proves the reviewed shafts, as far as the facts go.
pub(crate) fn prove<'a>(
    sheet: &Sheet,
    catalog: &'a Catalog,
    blocks: &Blocks<'a>,
    decisions: &Decisions<'a>,
    dimensions: &'a [Dimension],
) -> Proof {
    let facts = Facts::gather(sheet, catalog, blocks, decisions, dimensions);
    let inputs = Inputs::gather(sheet, catalog);
    let (mild, harsh) = (inputs.at(End::Mild), inputs.at(End::Harsh));
    let (at_mild, at_harsh) = (Setting::whole(&mild, &facts), Setting::whole(&harsh, &facts));

    let mut checks = Vec::new();
    let mut not_proved = Vec::new();
    for kind in KINDS {
        match (figure(kind, &harsh, &facts, &at_harsh), figure(kind, &mild, &facts, &at_mild)) {
            (Ok(hard), Ok(easy)) => checks.push(check(kind, &hard, &easy, facts.rules)),
            (Err(gap), _) | (_, Err(gap)) => {
                not_proved.push(NotProved { what: kind.words().to_owned(), needs: gap.0 });
            }
        }
    }
    let mut figures = Vec::new();
    let mut shown = |what: &str, figure: Result<ProofFigure, Gap>| match figure {
        Ok(figure) => figures.push(figure),
        Err(gap) => not_proved.push(NotProved { what: what.to_owned(), needs: gap.0 }),
    };
    shown(
        "the force that the lock ring must take to press on",
        lock_ring::press_on(&harsh, &mild, facts.rules, facts.leading),
    );
    shown("the clearance that is left in the bearing", clearance::clearance(&facts));
    shown("the damage of all load cases together", summed_damage(&at_harsh, &at_mild));
    let relative = |one: &ProofCheck| one.safety.harsh / one.required;
    checks.sort_by(|one, other| relative(one).total_cmp(&relative(other)).then(one.kind.cmp(&other.kind)));
    let sensitivity = checks.first().map_or_else(Vec::new, |weakest| {
        let kind = weakest.kind;
        sensitivity(&inputs, weakest.safety.harsh, |values| {
            let setting = match kind {
                ProofKind::Yield | ProofKind::Fatigue => Setting::whole(values, &facts),
                _ => Setting::of(values, &facts),
            };
            figure(kind, values, &facts, &setting).ok().map(|figure| figure.safety)
        })
    });
    Proof {
        checks,
        cases: case_proofs(&at_harsh, &at_mild).unwrap_or_default(),
        sensitivity,
        figures,
        not_proved,
        stated: inputs.stated(),
        assumed: assumed(&inputs, &facts),
    }
}

/// Damage of all cases together, at both ends.
fn summed_damage(harsh: &Result<Setting, Gap>, mild: &Result<Setting, Gap>) -> Result<ProofFigure, Gap> {
    let worst = |setting: &Result<Setting, Gap>| {
        let setting = setting.as_ref().map_err(Gap::clone)?;
        damage::worst(setting.prepared.as_ref().map_err(Gap::clone)?, setting.beam()?, &setting.cases)
    };
    Ok(damage::figure(worst(harsh)?, worst(mild)?))
}

fn check(kind: ProofKind, hard: &Figure, easy: &Figure, rules: &catalog::Proof) -> ProofCheck {
    let required = kind.required(rules);
    let outcome = match (hard.safety >= required, easy.safety >= required) {
        (true, true) => Outcome::Holds,
        (false, false) => Outcome::Fails,
        _ => Outcome::Unconfirmed,
    };
    ProofCheck {
        kind,
        words: kind.words().to_owned(),
        safety: SafetyRange { harsh: hard.safety, mild: easy.safety },
        required,
        outcome,
        detail: hard.detail.clone(),
        remedy: hard.remedy.clone(),
        source: kind.source().to_owned(),
    }
}

/// The load cases with their weakest sections; nothing where the shaft is not known well enough.
fn case_proofs(harsh: &Result<Setting, Gap>, mild: &Result<Setting, Gap>) -> Option<Vec<CaseProof>> {
    let (Ok(harsh), Ok(mild)) = (harsh, mild) else { return None };
    let mut all = Vec::new();
    for (case, easier) in harsh.cases.cases.iter().zip(&mild.cases.cases) {
        let stations = harsh.stations(case).ok()?;
        let easy = mild.stations(easier).ok()?;
        let least = |of: &[StationProof], safety: &dyn Fn(&StationProof) -> Option<f64>| {
            let found = of.iter().filter_map(|one| Some((one.section, safety(one)?)));
            found.reduce(|least, next| if next.1 < least.1 { next } else { least })
        };
        let yielding = |one: &StationProof| Some(one.yield_safety);
        let tiring = |one: &StationProof| one.fatigue_safety;
        let (weakest, at_harsh) = least(&stations, &yielding)?;
        let (_, at_mild) = least(&easy, &yielding)?;
        let fatigue = least(&stations, &tiring).zip(least(&easy, &tiring));
        all.push(CaseProof {
            case: case.case,
            vertical_n: case.limit.force.vertical_n,
            side_n: case.limit.force.side_n,
            torque_nm: case.limit.torque_nm,
            bending_nm: harsh.beam().and_then(|beam| beam.bending(&case.limit, beam.bearing_at)).ok()?,
            weakest,
            yield_safety: SafetyRange { harsh: at_harsh, mild: at_mild },
            fatigue: fatigue.map(|((section, harsh), (_, mild))| (section, SafetyRange { harsh, mild })),
            stations,
            stations_at_mild: easy,
        });
    }
    Some(all)
}

/// Everything that was assumed: the open inputs, steel, hardening, and the body.
fn assumed(inputs: &Inputs, facts: &Facts<'_>) -> Vec<AssumedInput> {
    let mut all = inputs.assumed();
    if facts.ring_bore.is_some() {
        all.retain(|one| one.input != Some(catalog::LoadInput::RingInterference));
    }
    let mut fixed = |words: &str, value: String, source: String| {
        all.push(AssumedInput { input: None, words: words.to_owned(), mild: value.clone(), harsh: value, source });
    };
    let settings = || facts.rules.source.to_string();
    if let (false, Some(steel)) = (facts.steel_is_stated, facts.steel) {
        fixed("steel", format!("{}, {}", steel.grade, steel.treatment), settings());
    }
    if !facts.hardening_is_stated {
        let words = if facts.hardened {
            format!("hardened by induction to {} HRC from flange fillet to spline end", facts.rules.case_hardness.value)
        } else {
            "none".to_owned()
        };
        fixed("hardening", words, settings());
    }
    if let (None, Some(spline)) = (inputs.at(End::Harsh).optional(catalog::LoadInput::BodyDiameter), &facts.spline) {
        let text = |size| catalog::LoadInput::BodyDiameter.text(size, facts.leading);
        all.push(AssumedInput {
            input: Some(catalog::LoadInput::BodyDiameter),
            words: catalog::LoadInput::BodyDiameter.words().to_owned(),
            mild: format!("from the seal journal down to the tips of the spline, {}", text(spline.major)),
            harsh: format!("from the tips of the spline down to its roots, {}", text(spline.minor)),
            source: "own judgement".to_owned(),
        });
    }
    all
}

/// What has to be said beside any verdict where the proof leaves something open.
pub(crate) fn caveat(proof: &Proof) -> Option<Reason> {
    let open: Vec<&str> = proof
        .checks
        .iter()
        .filter(|check| check.outcome == Outcome::Unconfirmed)
        .map(|check| check.words.as_str())
        .collect();
    if open.is_empty() && proof.not_proved.is_empty() {
        return None;
    }
    let words = if open.is_empty() {
        "That the shafts carry their load is not proved in every part.".to_owned()
    } else {
        format!("That the shafts carry their load is not proved. Open is whether {}.", open.join("; "))
    };
    let remedy =
        Some("State the loads and parts that the strength section names before the shafts are relied on.".to_owned());
    Some(Reason { verdict: Verdict::Cut, words, remedy })
}

/// The failed checks of a proof, with the reasons to stop.
pub(crate) fn stops(proof: &Proof) -> Vec<(Check, Reason)> {
    let failed = proof.checks.iter().filter(|check| check.outcome == Outcome::Fails);
    failed
        .map(|one| {
            let words = format!("{} (strength)", one.words);
            let check = Check {
                words,
                passed: false,
                statistic: Some(one.safety.mild),
                limit: Some(one.required),
                degrees_of_freedom: None,
                source: one.source.clone(),
            };
            let assumed = if one.safety.mild == one.safety.harsh {
                String::new()
            } else {
                format!(", and {} at the mild end of what the sheet leaves open", safety_text(one.safety.mild))
            };
            let reason = Reason {
                verdict: Verdict::Stop,
                words: format!(
                    "{}: safety {}{assumed}; at least {} is wanted. {}.",
                    one.kind.fault(),
                    safety_text(one.safety.harsh),
                    safety_text(one.required),
                    capitalised(&one.detail),
                ),
                remedy: Some(one.remedy.clone()),
            };
            (check, reason)
        })
        .collect()
}

/// A safety in words: `1.34`, rounded down so that what fails never reads as if it held.
fn safety_text(safety: f64) -> String {
    format!("{:.2}", (safety * 100.0).floor() / 100.0)
}
