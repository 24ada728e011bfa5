//! A text as a QR code (ISO/IEC 18004), drawn as SVG.

use std::fmt::Write;

use fast_qr::{ECL, QRBuilder};

/// The quiet zone that the standard asks for, in modules.
const QUIET: usize = 4;

/// The code as an SVG document; none where the text is too long for one.
pub fn svg(text: &str) -> Option<String> {
    let code = QRBuilder::new(text).ecl(ECL::Q).build().ok()?;
    let side = code.size + 2 * QUIET;
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {side} {side}\"><rect width=\"{side}\" height=\"{side}\" \
         fill=\"#fff\"/><path fill=\"#000\" d=\""
    );
    for row in 0..code.size {
        for (column, module) in code[row].iter().take(code.size).enumerate() {
            if module.value() {
                // Writing to a string cannot fail; the result carries no news.
                let _ = write!(out, "M{} {}h1v1h-1z", column + QUIET, row + QUIET);
            }
        }
    }
    out.push_str("\"/></svg>");
    Some(out)
}
