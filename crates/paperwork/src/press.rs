//! Sets papers: data and templates in, PDF out.

use std::collections::BTreeMap;
use std::fmt;

use serde::Serialize;
use typst::World;
use typst::WorldExt;
use typst::diag::{Severity, SourceDiagnostic};
use typst::foundations::{Bytes, Smart};
use typst::syntax::Source;
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use crate::frame::Frame;
use crate::job::Job;
use crate::pages::{
    Certificate, Confirmation, Drawings, FittingSheet, InspectionReport, MeasuringSheet, PackingLabel, PartsList,
    Traveler,
};
use crate::paper::Paper;
use crate::printable::{printable, printable_text};
use crate::shop::{LogoKind, Shop};
use crate::world::{FileKey, Files, Shelf, file_id};

/// The templates that the program carries, by the names of their files.
const TEMPLATES: [(&str, &str); 11] = [
    ("frame.typ", include_str!("../templates/frame.typ")),
    ("pictures.typ", include_str!("../templates/pictures.typ")),
    ("measuring-sheet.typ", include_str!("../templates/measuring-sheet.typ")),
    ("confirmation.typ", include_str!("../templates/confirmation.typ")),
    ("shop-drawing.typ", include_str!("../templates/shop-drawing.typ")),
    ("traveler.typ", include_str!("../templates/traveler.typ")),
    ("inspection-report.typ", include_str!("../templates/inspection-report.typ")),
    ("certificate.typ", include_str!("../templates/certificate.typ")),
    ("parts-list.typ", include_str!("../templates/parts-list.typ")),
    ("fitting-sheet.typ", include_str!("../templates/fitting-sheet.typ")),
    ("packing-label.typ", include_str!("../templates/packing-label.typ")),
];

/// How many documents may pass before what the typesetter remembers of them is forgotten.
const REMEMBERED: usize = 10;

/// Where the main text lies.
const MAIN: &str = "/main.typ";

/// No more drawings than this have a virtual path.
const DRAWINGS: [&str; 4] = ["/drawing-1.svg", "/drawing-2.svg", "/drawing-3.svg", "/drawing-4.svg"];

/// Sets the papers of one shop. Making a press reads fonts and templates; it is worth keeping.
pub struct Press {
    shelf: Shelf,
    sources: BTreeMap<FileKey, Source>,
    logo: Option<(&'static str, Bytes)>,
    /// What is doubtful about the shop's folder, one line each.
    warnings: Vec<String>,
}

/// Papers that are set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pressed {
    /// The PDF.
    pub pdf: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
    /// What is doubtful, one line each.
    pub warnings: Vec<String>,
}

/// Why papers cannot be set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PressError {
    /// Templates are wrong.
    Templates(Vec<TemplateFault>),
    /// The data of a paper cannot be handed over.
    Data(String),
}

/// A fault in a template.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TemplateFault {
    /// The name of its file: `confirmation.typ`.
    pub template: String,
    /// Line and column, counted from one; none where the fault has no place.
    pub place: Option<(usize, usize)>,
    /// What is wrong.
    pub problem: String,
    /// What may help, one line each.
    pub hints: Vec<String>,
}

impl fmt::Display for TemplateFault {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}", self.template)?;
        if let Some((line, column)) = self.place {
            write!(formatter, ":{line}:{column}")?;
        }
        write!(formatter, ": {}", self.problem)?;
        for hint in &self.hints {
            write!(formatter, "\n  hint: {hint}")?;
        }
        Ok(())
    }
}

impl fmt::Display for PressError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Templates(faults) => {
                for (number, fault) in faults.iter().enumerate() {
                    if number > 0 {
                        writeln!(formatter)?;
                    }
                    write!(formatter, "{fault}")?;
                }
                Ok(())
            }
            Self::Data(problem) => write!(formatter, "the papers cannot be filled in: {problem}"),
        }
    }
}

impl std::error::Error for PressError {}

impl Press {
    /// A press with our templates, and those of the shop in place of ours where they have the same name.
    #[must_use]
    pub fn new(shop: &Shop) -> Self {
        let mut sources = BTreeMap::new();
        for (name, text) in TEMPLATES {
            insert(&mut sources, name, text);
        }
        let mut warnings = Vec::new();
        for (name, text) in &shop.templates {
            if TEMPLATES.iter().any(|(own, _)| own == name) {
                insert(&mut sources, name, text);
            } else {
                let known: Vec<&str> = TEMPLATES.iter().map(|(own, _)| *own).collect();
                warnings.push(format!("{name}: no paper has a template of this name; known are {}", known.join(", ")));
            }
        }
        let logo = shop.logo.as_ref().map(|logo| {
            let path = match logo.kind {
                LogoKind::Svg => "/logo.svg",
                LogoKind::Png => "/logo.png",
                LogoKind::Jpeg => "/logo.jpg",
            };
            (path, Bytes::new(logo.bytes.clone()))
        });
        let mut press = Self { shelf: Shelf::new(), sources, logo: None, warnings };
        if let Some((path, bytes)) = logo {
            match press.sets_alone(path, &bytes) {
                Ok(()) => press.logo = Some((path, bytes)),
                Err(problem) => press
                    .warnings
                    .push(format!("the logo cannot be set: {problem}; the papers are made without a logo")),
            }
        }
        press
    }

    /// Whether a picture can be set: what fails here would fail on every paper.
    fn sets_alone(&self, path: &'static str, bytes: &Bytes) -> Result<(), String> {
        let main_id = file_id(MAIN).ok_or("it has no place")?;
        let text = format!("#set page(width: auto, height: auto)\n#image(\"{path}\", height: 11mm)\n");
        let files = file_id(path).map(|id| (id.into_raw(), bytes.clone())).into_iter().collect();
        let world = Files::new(&self.shelf, Source::new(main_id, text), BTreeMap::new(), files);
        let set = typst::compile::<PagedDocument>(&world).output;
        set.map(|_| ()).map_err(|found| found.first().map_or_else(String::new, |one| one.message.to_string()))
    }

    /// Sets these papers as one document, in the order in which they are named.
    ///
    /// # Errors
    ///
    /// A template of the shop is wrong, or draws on what is not there; each fault names template and line.
    pub fn press(&self, job: &Job<'_>, papers: &[Paper]) -> Result<Pressed, PressError> {
        let single = match papers {
            [paper] => Some(*paper),
            _ => None,
        };
        let frame = Frame::of(job, single, self.logo.as_ref().map(|(path, _)| *path));
        let mut files = BTreeMap::new();
        if let Some((path, bytes)) = &self.logo {
            files.extend(file_id(path).map(|id| (id.into_raw(), bytes.clone())));
        }
        self.fill(&mut files, "/frame.json", &frame)?;
        // The report names the balloons of the drawings, so both come from the same ones; other papers need none.
        let is_drawn = papers.iter().any(|paper| matches!(paper, Paper::ShopDrawing | Paper::InspectionReport));
        let drawings = if is_drawn { Drawings::of(job) } else { Drawings { sheets: Vec::new() } };
        for paper in papers {
            let path = format!("/{}.json", paper.key());
            match paper {
                Paper::MeasuringSheet => self.fill(&mut files, &path, &MeasuringSheet::of(job))?,
                Paper::Confirmation => self.fill(&mut files, &path, &Confirmation::of(job))?,
                Paper::ShopDrawing => {
                    self.fill(&mut files, &path, &drawings.page(&DRAWINGS))?;
                    for (path, sheet) in DRAWINGS.iter().zip(&drawings.sheets) {
                        files.extend(file_id(path).map(|id| (id.into_raw(), Bytes::from_string(sheet.svg.clone()))));
                    }
                }
                Paper::Traveler => self.fill(&mut files, &path, &Traveler::of(job))?,
                Paper::InspectionReport => self.fill(&mut files, &path, &InspectionReport::of(job, &drawings))?,
                Paper::Certificate => self.fill(&mut files, &path, &Certificate::of(job))?,
                Paper::PartsList => self.fill(&mut files, &path, &PartsList::of(job))?,
                Paper::FittingSheet => self.fill(&mut files, &path, &FittingSheet::of(job))?,
                Paper::PackingLabel => {
                    let label = PackingLabel::of(job);
                    self.fill(&mut files, &path, &label)?;
                    if let Some(code) = &label.code {
                        files.extend(file_id("/code.svg").map(|id| (id.into_raw(), Bytes::from_string(code.clone()))));
                    }
                }
            }
        }
        self.set(main_text(papers), files, &frame)
    }

    /// Makes data into a virtual file.
    fn fill(&self, files: &mut BTreeMap<FileKey, Bytes>, path: &str, data: &impl Serialize) -> Result<(), PressError> {
        let problem = |error: serde_json::Error| PressError::Data(error.to_string());
        let value = serde_json::to_value(data).map_err(problem)?;
        let value = printable(value, &|character| self.shelf.covers(character));
        let text = serde_json::to_string(&value).map_err(problem)?;
        files.extend(file_id(path).map(|id| (id.into_raw(), Bytes::from_string(text))));
        Ok(())
    }

    fn set(&self, main: String, files: BTreeMap<FileKey, Bytes>, frame: &Frame) -> Result<Pressed, PressError> {
        let Some(main_id) = file_id(MAIN) else {
            return Err(PressError::Data("the main text has no place".to_owned()));
        };
        let world = Files::new(&self.shelf, Source::new(main_id, main), self.sources.clone(), files);
        let set = typst::compile::<PagedDocument>(&world);
        let faults = |found: &[SourceDiagnostic]| -> PressError {
            PressError::Templates(found.iter().map(|one| fault(&world, one)).collect())
        };
        let mut warnings = self.warnings.clone();
        warnings.extend(set.warnings.iter().map(|one| fault(&world, one).to_string()));
        let document = set.output.map_err(|found| faults(&found))?;
        let standards = PdfStandards::new(&[PdfStandard::A_2a, PdfStandard::Ua_1])
            .map_err(|error| PressError::Data(error.message().to_string()))?;
        let covered = |character| self.shelf.covers(character);
        let options = PdfOptions {
            ident: Smart::Custom(format!("{} {}", printable_text(&frame.title, &covered), frame.revision)),
            creator: Smart::Custom(Some("Axlewright".to_owned())),
            standards,
            ..PdfOptions::default()
        };
        let pdf = typst_pdf::pdf(&document, &options).map_err(|found| faults(&found))?;
        let pages = document.pages().len();
        comemo::evict(REMEMBERED);
        Ok(Pressed { pdf, pages, warnings })
    }
}

fn insert(sources: &mut BTreeMap<FileKey, Source>, name: &str, text: &str) {
    if let Some(id) = file_id(&format!("/{name}")) {
        sources.insert(id.into_raw(), Source::new(id, text.to_owned()));
    }
}

/// The text that puts the papers one after another.
fn main_text(papers: &[Paper]) -> String {
    let mut text = "#import \"/frame.typ\": papers\n#show: papers\n".to_owned();
    for paper in papers {
        text.push_str(&format!("#include \"/{}.typ\"\n", paper.key()));
    }
    text
}

fn fault(world: &Files<'_>, found: &SourceDiagnostic) -> TemplateFault {
    let id = found.span.id();
    let name = id.map_or_else(|| "templates".to_owned(), |id| id.get().vpath().get_without_slash().to_owned());
    let range = world.range(found.span);
    let place = id.zip(range).and_then(|(id, range)| {
        let source = world.source(id).ok()?;
        let (line, column) = source.lines().byte_to_line_column(range.start)?;
        Some((line + 1, column + 1))
    });
    let severity = match found.severity {
        Severity::Error => "",
        Severity::Warning => "warning: ",
    };
    TemplateFault {
        template: name,
        place,
        problem: format!("{severity}{}", found.message),
        hints: found.hints.iter().map(|hint| hint.v.to_string()).collect(),
    }
}
