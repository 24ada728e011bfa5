//! Pictures of the pages, for people to judge: written where `AXLEWRIGHT_PICTURES` names a folder, by the test that opens every
//! page in every look.
//!
//! ```text
//! AXLEWRIGHT_PICTURES=/tmp/pictures cargo test -p axlewright --test desk_in_browser every_page_keeps
//! ```

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Stdio};

use crate::page::Page;

/// The variable that names the folder.
const FOLDER: &str = "AXLEWRIGHT_PICTURES";

/// Writes a picture of the page, where pictures are wanted.
pub async fn keep(page: &Page, address: &str, look: &str) {
    let Some(folder) = std::env::var_os(FOLDER).map(PathBuf::from) else { return };
    fs::create_dir_all(&folder).unwrap();
    let path = folder.join(format!("{} {look}.png", name(address)));
    fs::write(&path, page.picture().await).unwrap();
    // The pages have few colours. A picture with a palette is a quarter of the size; without the program it stays as it is.
    let _ = Command::new("pngquant")
        .args(["--force", "--ext", ".png", "--strip", "64"])
        .arg(&path)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status();
}

/// An address as a name of a file: `/orders/1?leaf=a` becomes `orders-1-leaf-a`.
fn name(address: &str) -> String {
    let words: Vec<&str> =
        address.split(|letter: char| !letter.is_ascii_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let joined = words.join("-");
    // A long address is cut, since file systems know no longer names.
    if joined.is_empty() { "list".to_owned() } else { joined.chars().take(80).collect() }
}
