//! The shop drawing: each shaft and the flange, with balloons.

use axle::Side;
use drawing::{Balloon, Numbers, View};
use serde::Serialize;

use crate::job::Job;

/// The drawings of a job with the numbers of their balloons.
#[derive(Debug, Clone)]
pub struct Drawings {
    /// The sheets.
    pub sheets: Vec<DrawnSheet>,
}

/// One drawing.
#[derive(Debug, Clone)]
pub struct DrawnSheet {
    /// What it shows.
    pub title: String,
    /// The shaft that it shows; none for what both share.
    pub side: Option<Side>,
    /// The drawing.
    pub svg: String,
    /// What it says, for those who cannot see it.
    pub words: String,
    /// Its balloons.
    pub balloons: Vec<Balloon>,
}

/// The page of the drawings.
#[derive(Debug, Clone, Serialize)]
pub struct DrawingPage {
    /// The drawings.
    pub drawings: Vec<DrawingOnPage>,
}

/// A drawing on its page.
#[derive(Debug, Clone, Serialize)]
pub struct DrawingOnPage {
    /// Where it lies.
    pub path: &'static str,
    /// Its title.
    pub title: String,
    /// What it says.
    pub words: String,
}

impl Drawings {
    /// Draws each wanted shaft, and the flange once.
    #[must_use]
    pub fn of(job: &Job<'_>) -> Self {
        let date = job.date.to_string();
        let sides = job.sides();
        let mut numbers = Numbers::default();
        let mut sheets = Vec::new();
        let views =
            sides.iter().map(|side| (View::Shaft, *side)).chain(sides.first().map(|side| (View::Flange, *side)));
        for (view, side) in views {
            let mut drawn = drawing::draw(job.sheet, job.review, &job.drawing_request(view, side, &date));
            let balloons = drawing::with_balloons(&mut drawn, &mut numbers);
            let dimensions: Vec<String> = balloons
                .iter()
                .map(|balloon| format!("{} {}: {}", balloon.number, balloon.name.replace('_', " "), balloon.words))
                .collect();
            sheets.push(DrawnSheet {
                words: format!("{}. {}.", drawn.title, dimensions.join("; ")),
                side: (view == View::Shaft).then_some(side),
                svg: drawing::svg_of_frame(&drawn),
                title: drawn.title,
                balloons,
            });
        }
        Self { sheets }
    }

    /// The page, with its drawings at these paths.
    #[must_use]
    pub fn page(&self, paths: &[&'static str]) -> DrawingPage {
        let drawings = paths
            .iter()
            .zip(&self.sheets)
            .map(|(path, sheet)| DrawingOnPage { path, title: sheet.title.clone(), words: sheet.words.clone() })
            .collect();
        DrawingPage { drawings }
    }
}
