//! Scratch.
fn main() {
    let catalog = catalog::Catalog::shipped().unwrap();
    for file in std::env::args().skip(1) {
        let text = std::fs::read_to_string(&file).unwrap();
        let sheet = axle::read_sheet(&file, &text, &catalog).unwrap();
        let start = std::time::Instant::now();
        for _ in 0..100 {
            std::hint::black_box(axle::review(&sheet, &catalog).unwrap());
        }
        println!("{file} {:?}", start.elapsed() / 100);
    }
}
