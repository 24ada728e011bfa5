//! `axlewright stud`: strength, tightening, clamp, slip of the wheel joint, hole and length of a wheel stud.

use axle::CAUTIONS;
use catalog::Catalog;
use clap::Args;
use elements::bolted_joint::{
    BoltError, BoltStrength, InchGrade, PropertyClass, inch_grade_strength, length_under_head, metric_strength,
    preload, scattered_preload, serrated_hole_mm, stress_area_inch, stress_area_metric, tightening_torque,
    wheel_slip_torque,
};
use quantity::{
    KSI_MPA, Leading, Length, LengthExt, LoadKind, SQUARE_INCH_MM2, Thread, WrittenLength, both_load, millimetres,
    read_thread,
};

use super::{Block, Calculation, CalculationArguments, Inputs, Quantity, Refusals};

/// Examples for the help.
pub const EXAMPLES: &str = "\
Examples:
  axlewright stud 1/2-20 --grade 8
      stress area, strength, preload and torque
  axlewright stud 1/2-20 --grade 8 --share 0.75 --nut-factor 0.20 --studs 5 --circle 120.65 mm --friction 0.15
      with the torque at which the wheel slips on its studs
  axlewright stud M12x1.5 --grade 10.9 --knurl 14.3 mm
      with the hole for the knurl
  axlewright stud 1/2-20 --grade 8 --flange 0.44 in --drum 0.10 in --wheel 0.50 in --nut 0.75 in
      with the length under the head

Exit status:
  0  the stud was computed
  2  an argument could not be used";

/// The arguments of `stud`.
#[derive(Debug, Args)]
pub struct StudArguments {
    /// The thread: 1/2-20 or M12x1.5
    #[arg(required = true, num_args = 1..=4, value_name = "THREAD")]
    thread: Vec<String>,

    /// SAE grade 2, 5 or 8 of an inch thread, property class 8.8, 10.9 or 12.9 of a metric one
    #[arg(long, value_name = "GRADE", conflicts_with = "proof")]
    grade: Option<String>,

    /// Proof stress, instead of a grade
    #[arg(long, value_name = "STRESS", num_args = 1..=2)]
    proof: Option<Vec<String>>,

    /// Share of the proof load to tighten to
    #[arg(long, value_name = "SHARE", conflicts_with = "clamp")]
    share: Option<String>,

    /// Clamp of one stud, instead of a share of the proof load
    #[arg(long, value_name = "FORCE", num_args = 1..=2)]
    clamp: Option<Vec<String>>,

    /// Nut factor of the torque
    #[arg(long, value_name = "FACTOR")]
    nut_factor: Option<String>,

    /// How far the preload scatters about its aim, as a share of it
    #[arg(long, value_name = "SHARE")]
    scatter: Option<String>,

    /// Number of studs: gives the torque at which the wheel slips
    #[arg(long, value_name = "COUNT", requires = "circle")]
    studs: Option<String>,

    /// Bolt circle
    #[arg(long, value_name = "LENGTH", num_args = 1..=3, requires = "studs")]
    circle: Option<Vec<String>>,

    /// Friction of wheel on drum or rotor
    #[arg(long, value_name = "FRICTION", requires = "studs")]
    friction: Option<String>,

    /// Crest diameter of the knurl: gives the hole
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    knurl: Option<Vec<String>>,

    /// Thickness of the flange: with --wheel and --nut gives the length under the head
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    flange: Option<Vec<String>>,

    /// Thickness of drum or rotor
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    drum: Option<Vec<String>>,

    /// Thickness of the wheel at its stud holes
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    wheel: Option<Vec<String>>,

    /// Length of thread in the nut
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    nut: Option<Vec<String>>,

    /// The unit.
    #[command(flatten)]
    pub common: CalculationArguments,
}

/// Strength of the stud, in MPa; a proof stress alone knows nothing of yield and tensile strength.
struct Strength {
    words: String,
    source: &'static str,
    proof_mpa: f64,
    others_mpa: Option<(f64, f64)>,
}

/// What was said of tightening and of the joint.
struct Wanted {
    share: f64,
    clamp_n: Option<f64>,
    nut_factor: f64,
    scatter: f64,
    joint: Option<Joint>,
}

struct Joint {
    studs: u32,
    circle: WrittenLength,
    friction: f64,
}

/// What stands between the head and the end of the nut.
struct Stack {
    flange: Option<WrittenLength>,
    drum: Option<WrittenLength>,
    wheel: Option<WrittenLength>,
    nut: Option<WrittenLength>,
}

/// Computes the stud.
///
/// # Errors
///
/// Every argument that cannot be used.
pub fn compute(arguments: &StudArguments, catalog: &Catalog) -> Result<Calculation, Refusals> {
    let mut inputs = Inputs::new(arguments.common.unit.as_deref());
    let mut taken = Vec::new();
    let thread = read_designation(arguments, &mut inputs);
    let strength = thread.and_then(|thread| read_strength(arguments, thread, &mut inputs));
    let wanted = read_wanted(arguments, &mut inputs, &mut taken);
    let knurl = inputs.length("--knurl", &arguments.knurl);
    let stack = read_stack(arguments, &mut inputs);
    inputs.settle()?;
    let (Some(thread), Some(strength), Some(wanted)) = (thread, strength, wanted) else {
        return Err(inputs.take_refusals());
    };
    let mut blocks = computed(thread, &strength, &wanted).map_err(|error| {
        let (argument, text) = match &error {
            BoltError::Range { what, .. } if what.contains("share") => ("--share", arguments.share.clone()),
            BoltError::Range { what, .. } if what.contains("nut factor") => {
                ("--nut-factor", arguments.nut_factor.clone())
            }
            BoltError::Range { what, .. } if what.contains("friction") => ("--friction", arguments.friction.clone()),
            BoltError::NotPositive { what, .. } if what.contains("studs") => ("--studs", arguments.studs.clone()),
            _ => ("THREAD", Some(arguments.thread.join(" "))),
        };
        inputs.refuse(argument, &text.unwrap_or_default(), error.to_string(), "");
        inputs.take_refusals()
    })?;
    blocks.extend(hole_block(thread, knurl.as_ref(), catalog, &mut inputs));
    blocks.extend(length_block(&stack));
    inputs.settle()?;
    let inch = matches!(thread, Thread::Unified { .. });
    Ok(Calculation {
        command: "stud",
        subject: format!("{thread}, {}", strength.words),
        leading: if inch { Leading::Inches } else { Leading::Millimetres },
        taken,
        blocks,
        cautions: &CAUTIONS,
    })
}

fn read_designation(arguments: &StudArguments, inputs: &mut Inputs) -> Option<Thread> {
    let text = arguments.thread.join(" ");
    match read_thread(&text) {
        Ok(thread) => Some(thread),
        Err(error) => {
            inputs.refuse_part("THREAD", &text, error.range(), error.to_string(), error.accepted());
            None
        }
    }
}

fn read_strength(arguments: &StudArguments, thread: Thread, inputs: &mut Inputs) -> Option<Strength> {
    if arguments.proof.is_some() {
        let proof_mpa = inputs.proof_stress("--proof", &arguments.proof)?;
        let leading = match thread {
            Thread::Unified { .. } => Leading::Inches,
            Thread::Metric { .. } => Leading::Millimetres,
        };
        let words = format!("proof stress {}", both_load(proof_mpa, LoadKind::Stress, leading));
        return Some(Strength { words, source: "the proof stress as given", proof_mpa, others_mpa: None });
    }
    let inch_grades = [("2", InchGrade::Two), ("5", InchGrade::Five), ("8", InchGrade::Eight)];
    let classes = [
        ("8.8", PropertyClass::EightPointEight),
        ("10.9", PropertyClass::TenPointNine),
        ("12.9", PropertyClass::TwelvePointNine),
    ];
    let accepted = match thread {
        Thread::Unified { .. } => "SAE grade 2, 5 or 8 for an inch thread; or --proof with the proof stress",
        Thread::Metric { .. } => {
            "property class 8.8, 10.9 or 12.9 for a metric thread; or --proof with the proof stress"
        }
    };
    let Some(text) = arguments.grade.as_deref() else {
        inputs.miss("--grade", "the strength of the stud is not given", accepted);
        return None;
    };
    let found = |name: &str| name == text.trim();
    let strength = match thread {
        Thread::Unified { diameter_in, .. } => inch_grades
            .into_iter()
            .find(|(name, _)| found(name))
            .map(|(_, grade)| (inch_grade_strength(grade, diameter_in), KSI_MPA, "SAE grade", "SAE J429")),
        Thread::Metric { diameter_mm, .. } => classes
            .into_iter()
            .find(|(name, _)| found(name))
            .map(|(_, class)| (metric_strength(class, diameter_mm), 1.0, "property class", "ISO 898-1")),
    };
    let Some((strength, unit_mpa, kind, source)) = strength else {
        inputs.refuse("--grade", text, "this is no grade of such a thread", accepted);
        return None;
    };
    match strength {
        Ok(BoltStrength { proof, yield_strength, tensile }) => Some(Strength {
            words: format!("{kind} {}", text.trim()),
            source,
            proof_mpa: proof * unit_mpa,
            others_mpa: Some((yield_strength * unit_mpa, tensile * unit_mpa)),
        }),
        Err(error) => {
            inputs.refuse("--grade", text, format!("for this thread {error}"), "--proof with the proof stress");
            None
        }
    }
}

fn read_wanted(arguments: &StudArguments, inputs: &mut Inputs, taken: &mut Vec<String>) -> Option<Wanted> {
    let clamp_n = inputs.force("--clamp", &arguments.clamp);
    let mut or_usual = |argument, text: Option<&str>, usual: f64, words: &str, accepted| match text {
        Some(text) => inputs.number(argument, Some(text), accepted),
        None => {
            taken.push(words.to_owned());
            Some(usual)
        }
    };
    let share = if arguments.clamp.is_some() {
        Some(1.0)
    } else {
        let words = "75 % of the proof load, usual for a joint that is taken apart";
        or_usual("--share", arguments.share.as_deref(), 0.75, words, "a share from 0.1 to 1, such as 0.75")
    };
    let words = "a nut factor of 0.20, about that of dry steel";
    let accepted = "a factor from 0.05 to 0.5, such as 0.20";
    let nut_factor = or_usual("--nut-factor", arguments.nut_factor.as_deref(), 0.20, words, accepted);
    let words = "a scatter of the preload of 25 % either way, as the nut factor is uncertain";
    let accepted = "a share from 0 to below 1, such as 0.25";
    let scatter = or_usual("--scatter", arguments.scatter.as_deref(), 0.25, words, accepted);
    let joint = match &arguments.studs {
        None => None,
        Some(studs) => {
            let words = "a friction of 0.15 between wheel and drum (dry steel: common practice, no source)";
            let accepted = "a friction from 0.01 to 1, such as 0.15";
            let friction = or_usual("--friction", arguments.friction.as_deref(), 0.15, words, accepted);
            let studs = inputs.count("--studs", Some(studs), "a whole number of studs, such as 5");
            let circle = inputs.length("--circle", &arguments.circle);
            Some(Joint { studs: studs?, circle: circle?, friction: friction? })
        }
    };
    let scatter = scatter?;
    if scatter >= 1.0 {
        let text = arguments.scatter.as_deref().unwrap_or_default();
        inputs.refuse(
            "--scatter",
            text,
            "so much scatter leaves no preload",
            "a share from 0 to below 1, such as 0.25",
        );
    }
    Some(Wanted { share: share?, clamp_n, nut_factor: nut_factor?, scatter, joint })
}

fn read_stack(arguments: &StudArguments, inputs: &mut Inputs) -> Stack {
    let stack = Stack {
        flange: inputs.length("--flange", &arguments.flange),
        drum: inputs.length("--drum", &arguments.drum),
        wheel: inputs.length("--wheel", &arguments.wheel),
        nut: inputs.length("--nut", &arguments.nut),
    };
    let given = [&arguments.flange, &arguments.drum, &arguments.wheel, &arguments.nut];
    if given.into_iter().any(Option::is_some) {
        for (argument, words) in
            [("--flange", &arguments.flange), ("--wheel", &arguments.wheel), ("--nut", &arguments.nut)]
        {
            if words.is_none() {
                let problem = "the length under the head takes this thickness as well";
                inputs.miss(argument, problem, "a length; only --drum may be left out");
            }
        }
    }
    stack
}

fn computed(thread: Thread, strength: &Strength, wanted: &Wanted) -> Result<Vec<Block>, BoltError> {
    let (area_mm2, area_source) = match thread {
        Thread::Unified { diameter_in, per_inch } => {
            (stress_area_inch(diameter_in, per_inch)? * SQUARE_INCH_MM2, "ASME B1.1, tensile stress area")
        }
        Thread::Metric { diameter_mm, pitch_mm } => {
            (stress_area_metric(diameter_mm, pitch_mm)?, "ISO 898-1, nominal stress area")
        }
    };
    let mut block = Block::new("thread", area_source);
    block.size("diameter", thread.diameter(), "");
    block.size("pitch", thread.pitch(), "");
    block.one("stress_area", Quantity::Area(area_mm2), "");
    let mut strengths = Block::new("strength", strength.source);
    strengths.one("proof_stress", Quantity::Stress(strength.proof_mpa), "");
    if let Some((yield_mpa, tensile_mpa)) = strength.others_mpa {
        strengths.one("yield_strength", Quantity::Stress(yield_mpa), "");
        strengths.one("tensile_strength", Quantity::Stress(tensile_mpa), "");
    }
    let proof_n = preload(strength.proof_mpa, area_mm2, 1.0)?;
    strengths.one("proof_load", Quantity::Force(proof_n), "");

    let clamp_n = match wanted.clamp_n {
        Some(clamp_n) => clamp_n,
        None => preload(strength.proof_mpa, area_mm2, wanted.share)?,
    };
    let (least_n, most_n) = scattered_preload(clamp_n, wanted.scatter)?;
    let source = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th edition, sections 8-8 and 8-9";
    let mut tightening = Block::new("tightening", source);
    tightening.one("preload", Quantity::Force(clamp_n), "the aim, and the clamp of one stud");
    // Newtons and metres give newton metres.
    let torque_nm = tightening_torque(wanted.nut_factor, thread.diameter().value, clamp_n)?;
    tightening.one(
        "torque",
        Quantity::Torque(torque_nm),
        format!("with a nut factor of {}", factor(wanted.nut_factor)),
    );
    let scattered = (Quantity::ScatteredForce(least_n), Quantity::ScatteredForce(most_n));
    let remark = format!("with its scatter of {:.0} % either way", 100.0 * wanted.scatter);
    tightening.range("preload_at_that_torque", scattered.0, scattered.1, remark);
    if most_n > proof_n {
        tightening.note("at the tight end of the scatter the stud passes its proof load: tighten to less");
    }
    tightening.note("the wheel maker's torque comes first");
    let mut blocks = vec![block, strengths, tightening];
    if let Some(joint) = &wanted.joint {
        blocks.push(joint_block(joint, least_n, clamp_n, most_n)?);
    }
    Ok(blocks)
}

fn joint_block(joint: &Joint, least_n: f64, clamp_n: f64, most_n: f64) -> Result<Block, BoltError> {
    let mut block = Block::new("wheel_joint", "Coulomb friction at the mean radius of the studs, one interface");
    let circle_m = joint.circle.value().value;
    let slip = |clamp: f64| wheel_slip_torque(joint.studs, clamp, joint.friction, circle_m);
    block.size("bolt_circle", joint.circle.value(), format!("{} studs", joint.studs));
    let remark = format!("at the aim, with a friction of {}", factor(joint.friction));
    block.one("slip_torque", Quantity::Torque(slip(clamp_n)?), remark);
    let scattered = |clamp: f64| slip(clamp).map(Quantity::ScatteredTorque);
    block.range("slip_torque_with_scatter", scattered(least_n)?, scattered(most_n)?, "");
    block.note("hold the least slip torque against the greatest torque of launch and of braking at one wheel");
    Ok(block)
}

/// A factor as handbooks print it: with two decimals, or as many as it was given with.
fn factor(value: f64) -> String {
    let plain = value.to_string();
    if plain.split('.').nth(1).is_some_and(|decimals| decimals.len() > 2) { plain } else { format!("{value:.2}") }
}

/// The hole for the knurl that was named, or else for the catalog's stud of this thread.
fn hole_block(thread: Thread, knurl: Option<&WrittenLength>, catalog: &Catalog, inputs: &mut Inputs) -> Option<Block> {
    let size = |length: Length| Quantity::Size(length);
    let mut block = match knurl {
        Some(knurl) => {
            let (least_mm, most_mm) = match serrated_hole_mm(knurl.value().millimetres()) {
                Ok(hole) => hole,
                Err(error) => {
                    inputs.refuse("--knurl", knurl.text(), error.to_string(), "");
                    return None;
                }
            };
            let mut block = Block::new("hole_for_the_knurl", "common practice, no source");
            block.size("knurl", knurl.value(), "over the crests");
            block.range("hole", size(millimetres(least_mm)), size(millimetres(most_mm)), "in steel");
            block
        }
        None => {
            let row = catalog.stud(thread)?;
            let mut block = Block::new("hole_for_the_knurl", format!("the catalog: {}", row.source));
            block.range("knurl", size(row.knurl.0), size(row.knurl.1), "the catalog's usual stud of this thread");
            block.range("hole", size(row.hole.0), size(row.hole.1), "in steel");
            block
        }
    };
    block.note("knurls differ from maker to maker: measure the knurl in hand and press one stud for trial");
    Some(block)
}

fn length_block(stack: &Stack) -> Option<Block> {
    let (flange, wheel, nut) = (stack.flange.as_ref()?, stack.wheel.as_ref()?, stack.nut.as_ref()?);
    let mut block = Block::new("length", "sum of what stands between the head and the end of the nut");
    block.size("flange", flange.value(), "");
    if let Some(drum) = &stack.drum {
        block.size("drum_or_rotor", drum.value(), "");
    }
    block.size("wheel", wheel.value(), "");
    block.size("nut", nut.value(), "thread that the nut takes");
    let mm = |written: &WrittenLength| written.value().millimetres();
    // Lengths are read as above nought, so that the sum always is one.
    let under_head_mm = length_under_head(mm(flange), stack.drum.as_ref().map_or(0.0, mm), mm(wheel), mm(nut)).ok()?;
    block.size("length_under_head", millimetres(under_head_mm), "at least; take the next longer stud");
    block.note("the knurl must end inside the flange and the thread must begin inside the wheel");
    Some(block)
}
