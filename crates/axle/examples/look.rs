//! Scratch.
fn main() {
    let catalog = catalog::Catalog::shipped().unwrap();
    for file in std::env::args().skip(1) {
        let text = std::fs::read_to_string(&file).unwrap();
        let sheet = match axle::read_sheet(&file, &text, &catalog) {
            Ok(s) => s,
            Err(f) => {
                println!("{f}");
                continue;
            }
        };
        let start = std::time::Instant::now();
        let r = axle::review(&sheet, &catalog).unwrap();
        let took = start.elapsed();
        println!("=== {file} {:?} {:?}  {took:?}", r.verdict, r.fit_probability);
        for x in &r.reasons {
            println!("  reason {:?} {} | {:?}", x.verdict, x.words, x.remedy);
        }
        for x in &r.explanations {
            println!("  {:.3} {:?}", x.probability, x.parts);
            for m in &x.mistakes {
                println!(
                    "        {} -> {:?}",
                    m.words,
                    m.would_say.map(|l| quantity::both(l, quantity::Leading::Inches))
                );
            }
        }
        for x in r.conditions.iter().take(8) {
            println!("  cond {:.4} {}", x.probability, x.words);
        }
        for x in &r.dimensions {
            println!(
                "  dim {:?} {:?} {} ± {:.3} mean {:.3} {:?}",
                x.kind,
                x.side,
                quantity::both(x.cut, quantity::Leading::Inches),
                x.standard_uncertainty.value * 1000.,
                x.mean.value * 1000.,
                x.basis
            );
        }
        for x in &r.questions {
            println!("  ask {} {:.2}: {}", x.required, x.variance_reduction, x.words);
        }
        for x in &r.identified {
            println!(
                "  part {:?} {} {:?} {:?}",
                x.kind,
                x.decided,
                x.candidates.iter().take(3).map(|c| format!("{} {:.3}", c.name, c.probability)).collect::<Vec<_>>(),
                x.remark
            );
        }
        for x in &r.checks {
            println!("  check {} {} {:?}/{:?}", x.passed, x.words, x.statistic, x.limit);
        }
        for x in &r.readings {
            println!(
                "  read {:?} {:?} {} -> {:?} p={:.3} r={:.2} {:?} {:?}",
                x.measurand,
                x.side,
                x.written,
                x.reconciled.map(|l| l.value * 1000.0),
                x.probability_mistaken,
                x.redundancy,
                x.likely_mistake,
                x.remark
            );
        }
    }
}
