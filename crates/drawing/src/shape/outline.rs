//! The half section of a shaft from its outboard to its inboard end: what the pictures trace and the solid turns.

use super::{ShaftShape, Step, StepKind};

/// Chamfer at the outboard end of the wheel pilot. Own judgement.
pub const PILOT_CHAMFER_MM: f64 = 1.0;

/// Chamfer at the inboard end of the spline. Own judgement.
pub const END_CHAMFER_MM: f64 = 1.5;

/// A fillet smaller than this is none.
const LEAST_FILLET_MM: f64 = 0.05;

/// One piece of the outline, from where the piece before ended. Millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OutlinePiece {
    /// A straight line to a place and a radius. The first one only says where the outline begins.
    Line {
        /// Where it ends, from the wheel face.
        place_mm: f64,
        /// The radius there.
        radius_mm: f64,
    },
    /// A quarter of a circle in the corner between a face at a place and a cylinder inboard of it.
    Fillet {
        /// Where the face is, from the wheel face.
        place_mm: f64,
        /// Radius of the cylinder.
        radius_mm: f64,
        /// Radius of the fillet.
        fillet_mm: f64,
    },
}

impl ShaftShape {
    /// The fillet in the corner where a step begins: the one that is asked for, or as much of it as has room.
    #[must_use]
    pub fn fillet_mm(&self, steps: &[Step], kind: StepKind) -> Option<f64> {
        let asked = match kind {
            StepKind::Shoulder => self.flange_fillet.drawn(4.0),
            StepKind::Journal => self.shoulder_fillet.drawn(1.5),
            _ => return None,
        };
        let index = steps.iter().position(|step| step.kind == kind)?;
        let (before, step) = (steps.get(index.checked_sub(1)?)?, steps.get(index)?);
        let face = 0.5 * (before.inner_mm - step.outer_mm);
        let fillet = asked.min(face).min(step.to_mm - step.from_mm);
        (fillet > LEAST_FILLET_MM).then_some(fillet)
    }

    /// The outline over these steps, with chamfers and fillets.
    #[must_use]
    pub fn outline(&self, steps: &[Step]) -> Vec<OutlinePiece> {
        let mut outline = Vec::with_capacity(2 * steps.len() + 2);
        for step in steps {
            let (outer, inner) = (0.5 * step.outer_mm, 0.5 * step.inner_mm);
            let mut line = |place_mm, radius_mm| outline.push(OutlinePiece::Line { place_mm, radius_mm });
            match (step.kind, self.fillet_mm(steps, step.kind)) {
                (StepKind::WheelPilot, _) => {
                    line(step.from_mm, (outer - PILOT_CHAMFER_MM).max(0.1));
                    line(step.from_mm + PILOT_CHAMFER_MM, outer);
                }
                (_, Some(fillet_mm)) => {
                    outline.push(OutlinePiece::Fillet { place_mm: step.from_mm, radius_mm: outer, fillet_mm });
                }
                _ => line(step.from_mm, outer),
            }
            let mut line = |place_mm, radius_mm| outline.push(OutlinePiece::Line { place_mm, radius_mm });
            if step.kind == StepKind::Spline {
                line(step.to_mm - END_CHAMFER_MM, inner);
                line(step.to_mm, inner - END_CHAMFER_MM);
            } else {
                line(step.to_mm, inner);
            }
        }
        outline
    }
}
