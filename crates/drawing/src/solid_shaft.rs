//! One shaft as a solid: the outline that the pictures trace, turned about its axis, with its holes and, on request, its
//! spline teeth.
//!
//! What a picture may do, a solid may not: no stand-in takes the place of a size that nobody knows. A shaft that lacks a
//! size of its turned body is refused with what would give it. Holes of which something is not known are left out, and the
//! file says so.

mod file;
mod refusal;

use solid::{AxialHole, HoleEnd, Profile, RevolvedPart, Solid, SplineTeeth, Turn};

use crate::shape::{OutlinePiece, ShaftShape, Size, SizeBasis, Step, StepKind};

pub use file::{StepRequest, step};
pub use refusal::{MissingSize, SolidRefusal};

/// Two places that lie closer than this are drawn as one, in millimetres: the solid can tell no less apart.
const SAME_MM: f64 = solid::LEAST_GAP_MM;

/// How far a size may lie off the step that was made from it, in millimetres: rounding, and nothing else.
const ROUNDING_MM: f64 = 1e-9;

/// A shaft as a part that can be turned, drilled and toothed, and what a reader of its file has to know.
#[derive(Debug, Clone, PartialEq)]
pub struct SolidShaft {
    /// The part; `z` is the distance from the wheel face, `y` points up and `x` to the left where it is seen from outboard.
    pub part: RevolvedPart,
    /// The sizes that are assumed, in words.
    pub assumed: Vec<&'static str>,
    /// What had to be left out, a sentence each.
    pub left_out: Vec<String>,
}

impl SolidShaft {
    /// Makes the part of a shape, with its spline as teeth or as a cylinder over their tips.
    ///
    /// # Errors
    ///
    /// [`SolidRefusal`] where a size of the turned body is not known, where sizes contradict each other, or where teeth are
    /// wanted and the spline is in no series that is known.
    ///
    /// ```
    /// use axle::Side;
    /// use drawing::{ShaftShape, SolidRefusal, SolidShaft};
    /// let catalog = axle::Catalog::shipped()?;
    /// let text = "[order]\nreference = \"KB-0001\"\nuse = \"street\"\nunit = \"in\"\nsides = [\"left\"]\n";
    /// let review = axle::review(&axle::read_sheet("sheet.toml", text, &catalog)?, &catalog)?;
    /// let refusal = SolidShaft::of(&ShaftShape::of(&review, Side::Left), false).unwrap_err();
    /// assert!(matches!(refusal, SolidRefusal::Missing { .. }));
    /// assert!(refusal.to_string().contains("overall length"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of(shape: &ShaftShape, teeth: bool) -> Result<Self, SolidRefusal> {
        refusal::missing(shape)?;
        let steps = shape.steps();
        agree(shape, &steps)?;
        let mut splines = Vec::new();
        if teeth {
            splines.push(spline_teeth(shape, &steps)?);
        }
        let mut left_out = Vec::new();
        let part =
            RevolvedPart { profile: profile(shape, &steps, teeth), holes: holes(shape, &mut left_out)?, splines };
        if let Some(reason) = lost_fillets(shape, &steps) {
            left_out.push(reason);
        }
        let sizes = shape.sizes().into_iter().filter(|size| size.basis == SizeBasis::Assumed);
        let mut assumed: Vec<&'static str> = sizes.map(|size| size.words).collect();
        assumed.extend(["chamfers at both ends"]);
        Ok(Self { part, assumed, left_out })
    }

    /// The part, checked.
    ///
    /// # Errors
    ///
    /// [`SolidRefusal::Part`] where the sizes give no solid.
    pub fn solid(&self) -> Result<Solid, SolidRefusal> {
        Ok(Solid::new(&self.part)?)
    }
}

/// A size, and what was made of it in a step of the picture.
type Made<'a> = (&'a Size, StepKind, fn(&Step) -> f64);

/// Refuses sizes that the picture had to bend: a shoulder within the flange, a spline that begins before the seal journal.
fn agree(shape: &ShaftShape, steps: &[Step]) -> Result<(), SolidRefusal> {
    let of = |kind| steps.iter().find(|step: &&Step| step.kind == kind);
    let made: [Made<'_>; 15] = [
        (&shape.register_height, StepKind::Register, |step| -step.from_mm),
        (&shape.wheel_pilot_height, StepKind::WheelPilot, |step| -step.from_mm),
        (&shape.wheel_pilot_diameter, StepKind::WheelPilot, |step| step.outer_mm),
        (&shape.register_diameter, StepKind::Register, |step| step.outer_mm),
        (&shape.flange_diameter, StepKind::Flange, |step| step.outer_mm),
        (&shape.flange_thickness, StepKind::Flange, |step| step.to_mm),
        (&shape.shoulder_distance, StepKind::Shoulder, |step| step.to_mm),
        (&shape.journal_end, StepKind::Journal, |step| step.to_mm),
        (&shape.ring_seat_end, StepKind::RingSeat, |step| step.to_mm),
        (&shape.seal_journal_end, StepKind::SealJournal, |step| step.to_mm),
        (&shape.spline_start, StepKind::Body, |step| step.to_mm),
        (&shape.overall_length, StepKind::Spline, |step| step.to_mm),
        (&shape.journal_diameter, StepKind::Journal, |step| step.outer_mm),
        (&shape.shoulder_diameter, StepKind::Shoulder, |step| step.outer_mm),
        (&shape.spline_major_diameter, StepKind::Spline, |step| step.outer_mm),
    ];
    for (size, kind, read) in made {
        let (Some(value_mm), Some(step)) = (size.value_mm, of(kind)) else { continue };
        let drawn_mm = read(step);
        if (drawn_mm - value_mm).abs() > ROUNDING_MM {
            return Err(SolidRefusal::Contradiction { what: size.words, value_mm, beside_mm: drawn_mm });
        }
    }
    Ok(())
}

/// The outline as the solid's profile. Teeth run to the inner end, since a chamfer would close the spaces between them.
fn profile(shape: &ShaftShape, steps: &[Step], teeth: bool) -> Profile {
    let outline = shape.outline(steps);
    let kept = if teeth { outline.len().saturating_sub(2) } else { outline.len() };
    let mut chain = Chain::starting_at(steps.first().map_or(0.0, |step| step.from_mm));
    for piece in outline.into_iter().take(kept) {
        match piece {
            OutlinePiece::Line { place_mm, radius_mm } => chain.line(place_mm, radius_mm),
            OutlinePiece::Fillet { place_mm, radius_mm, fillet_mm } => {
                chain.line(place_mm, radius_mm + fillet_mm);
                chain.fillet(place_mm + fillet_mm, radius_mm, fillet_mm);
            }
        }
    }
    let end = steps.last().map_or((0.0, 1.0), |step| (step.to_mm, 0.5 * step.inner_mm));
    if teeth {
        chain.line(end.0, end.1);
    }
    chain.line(end.0, 0.0);
    chain.profile
}

/// A profile that grows, without pieces too short to tell and without steps that are no steps.
struct Chain {
    profile: Profile,
    at: (f64, f64),
}

impl Chain {
    fn starting_at(place: f64) -> Self {
        Self { profile: Profile::starting_at(place, 0.0), at: (place, 0.0) }
    }

    fn line(&mut self, place: f64, radius: f64) {
        let snapped = |to: f64, from: f64| if (to - from).abs() < SAME_MM { from } else { to };
        let to = (snapped(place, self.at.0), snapped(radius, self.at.1));
        if to != self.at {
            self.profile.segments.push(solid::Segment::Line { to: solid::Place { z_mm: to.0, r_mm: to.1 } });
            self.at = to;
        }
    }

    fn fillet(&mut self, place: f64, radius: f64, fillet: f64) {
        let to = solid::Place { z_mm: place, r_mm: radius };
        self.profile.segments.push(solid::Segment::Arc { to, radius_mm: fillet, turn: Turn::Anticlockwise });
        self.at = (place, radius);
    }
}

/// The teeth from the start of the spline to the inner end.
fn spline_teeth(shape: &ShaftShape, steps: &[Step]) -> Result<SplineTeeth, SolidRefusal> {
    let (Some(spline), Some(step)) = (&shape.spline, steps.last()) else { return Err(SolidRefusal::NoToothData) };
    let mm = |length: quantity::Length| quantity::LengthExt::millimetres(&length);
    let (least, most) = spline.tooth_thickness;
    Ok(SplineTeeth {
        teeth: spline.teeth,
        pitch_diameter_mm: mm(spline.pitch_diameter),
        pressure_angle_deg: spline.pressure_angle_degrees,
        tooth_thickness_mm: 0.5 * (mm(least) + mm(most)),
        root_diameter_mm: mm(spline.minor_diameter),
        from_z_mm: step.from_mm,
        to_z_mm: step.to_mm,
    })
}

/// Stud holes and access hole through the flange, or why they are not there.
fn holes(shape: &ShaftShape, left_out: &mut Vec<String>) -> Result<Vec<AxialHole>, SolidRefusal> {
    let mut holes = Vec::new();
    let Some(thickness) = shape.flange_thickness.value_mm else { return Ok(holes) };
    let mut drill = |circle_mm: f64, direction: f64, diameter_mm: f64| {
        // Not the system's sine: the same sheet gives the same bytes on every machine.
        let (sine, cosine) = libm::sincos(direction.to_radians());
        holes.push(AxialHole {
            // Seen from outboard the solid's x points to the left.
            x_mm: -0.5 * circle_mm * cosine,
            y_mm: 0.5 * circle_mm * sine,
            diameter_mm,
            from_z_mm: 0.0,
            to_z_mm: thickness,
            end: HoleEnd::Through,
        });
    };
    match (shape.holes.filter(|count| *count > 1), shape.bolt_circle.value_mm, shape.stud_hole.value_mm) {
        (Some(count), Some(circle), Some(hole)) => {
            within_flange(shape, "a stud hole", circle, hole)?;
            for number in 0..count {
                drill(circle, ShaftShape::hole_direction(count, number), hole);
            }
        }
        (_, _, None) => left_out.push("The stud holes: their diameter is not known.".to_owned()),
        _ => left_out.push("The stud holes: the bolt circle is not known.".to_owned()),
    }
    match (shape.has_access_hole, shape.access_hole.value_mm, shape.access_hole_circle.value_mm) {
        (Some(true), Some(hole), Some(circle)) => {
            within_flange(shape, "the access hole", circle, hole)?;
            drill(circle, ShaftShape::ACCESS_HOLE_DIRECTION, hole);
        }
        (Some(true), ..) => left_out.push("The access hole: its size or its place is not known.".to_owned()),
        _ => {}
    }
    Ok(holes)
}

/// Refuses a hole that runs over the rim of the flange, or into register or shoulder.
fn within_flange(shape: &ShaftShape, what: &'static str, circle_mm: f64, hole_mm: f64) -> Result<(), SolidRefusal> {
    let (inner_mm, outer_mm) = (circle_mm - hole_mm, circle_mm + hole_mm);
    let rim_mm = shape.flange_diameter.drawn(0.0);
    let shoulder = shape.shoulder_diameter.drawn(0.0) + 2.0 * shape.flange_fillet.drawn(0.0);
    let core_mm = shape.register_diameter.drawn(0.0).max(shoulder);
    if inner_mm > core_mm + SAME_MM && outer_mm < rim_mm - SAME_MM {
        return Ok(());
    }
    Err(SolidRefusal::HoleLeavesFlange { what, inner_mm, outer_mm, core_mm, rim_mm })
}

/// Fillets that are larger than their corner.
fn lost_fillets(shape: &ShaftShape, steps: &[Step]) -> Option<String> {
    let asked = [(&shape.flange_fillet, StepKind::Shoulder), (&shape.shoulder_fillet, StepKind::Journal)];
    let lost: Vec<&str> = asked
        .into_iter()
        .filter(|(size, kind)| {
            let made = shape.fillet_mm(steps, *kind).unwrap_or(0.0);
            size.value_mm.is_some_and(|asked| made < asked - ROUNDING_MM)
        })
        .map(|(size, _)| size.words)
        .collect();
    (!lost.is_empty()).then(|| format!("A part of the {}: it is larger than its corner.", lost.join(" and of the ")))
}
