//! Models as JSON, so that another program can weigh the same ones.

use reconcile::{Evidence, Form, Mistake, Model, Prior};
use serde::{Deserialize, Serialize};

/// All models of one order.
#[derive(Serialize, Deserialize)]
pub struct File {
    models: Vec<ModelEntry>,
}

#[derive(Serialize, Deserialize)]
struct ModelEntry {
    weight: f64,
    priors: Vec<PriorEntry>,
    readings: Vec<EvidenceEntry>,
    mistakes: Vec<MistakeEntry>,
}

#[derive(Serialize, Deserialize)]
struct PriorEntry {
    mean: f64,
    standard_deviation: f64,
    firm: bool,
}

#[derive(Serialize, Deserialize)]
struct EvidenceEntry {
    terms: Vec<(usize, f64)>,
    constant: f64,
    value: f64,
    standard_uncertainty: f64,
}

#[derive(Serialize, Deserialize)]
struct MistakeEntry {
    rate: f64,
    spoils: Vec<(usize, EvidenceEntry)>,
}

impl File {
    /// The file that holds these models.
    pub fn of(models: &[Model]) -> Self {
        let evidence = |evidence: &Evidence| EvidenceEntry {
            terms: evidence.form.terms().to_vec(),
            constant: evidence.form.constant(),
            value: evidence.value,
            standard_uncertainty: evidence.standard_uncertainty,
        };
        let prior = |prior: &Prior| PriorEntry {
            mean: prior.mean,
            standard_deviation: prior.standard_deviation,
            firm: prior.firm,
        };
        let mistake = |mistake: &Mistake| MistakeEntry {
            rate: mistake.rate,
            spoils: mistake.spoils.iter().map(|(at, meaning)| (*at, evidence(meaning))).collect(),
        };
        let model = |model: &Model| ModelEntry {
            weight: model.weight,
            priors: model.priors.iter().map(prior).collect(),
            readings: model.readings.iter().map(evidence).collect(),
            mistakes: model.mistakes.iter().map(mistake).collect(),
        };
        Self { models: models.iter().map(model).collect() }
    }

    /// The models that the file holds.
    pub fn models(self) -> Vec<Model> {
        let evidence = |entry: EvidenceEntry| Evidence {
            form: Form::new(entry.terms, entry.constant),
            value: entry.value,
            standard_uncertainty: entry.standard_uncertainty,
        };
        let prior = |entry: PriorEntry| Prior {
            mean: entry.mean,
            standard_deviation: entry.standard_deviation,
            firm: entry.firm,
        };
        let mistake = |entry: MistakeEntry| Mistake {
            rate: entry.rate,
            spoils: entry.spoils.into_iter().map(|(at, meaning)| (at, evidence(meaning))).collect(),
        };
        let model = |entry: ModelEntry| Model {
            weight: entry.weight,
            priors: entry.priors.into_iter().map(prior).collect(),
            readings: entry.readings.into_iter().map(evidence).collect(),
            mistakes: entry.mistakes.into_iter().map(mistake).collect(),
        };
        self.models.into_iter().map(model).collect()
    }
}
