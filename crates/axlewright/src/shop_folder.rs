//! Loads a shop's folder: `shop.toml`, the logo that it names, and `templates/*.typ`.

use std::io;
use std::path::Path;

use paperwork::{Logo, LogoKind, Shop, read_shop};

use crate::streams::Streams;
use crate::text_file;

/// The most that a logo may hold.
const LARGEST_LOGO: u64 = 4 * 1024 * 1024;

/// Loads the folder. Where it cannot be used, every fault is written to the error output and nothing comes back. A logo that
/// is not there is a warning: the papers are made without it.
///
/// # Errors
///
/// A stream takes no more.
pub fn load(folder: &Path, streams: &mut Streams) -> io::Result<Option<Shop>> {
    let path = folder.join("shop.toml");
    let name = path.display().to_string();
    let text = match text_file::read(&path, "a folder with a shop.toml: a text file in TOML, saved as UTF-8") {
        Ok(text) => text,
        Err(unreadable) => {
            streams.complain_of_file(&name, &unreadable)?;
            return Ok(None);
        }
    };
    let details = match read_shop(&name, &text) {
        Ok(details) => details,
        Err(faults) => {
            streams.complain(&faults.to_string())?;
            return Ok(None);
        }
    };
    let logo = match &details.logo {
        None => None,
        Some(file) => match logo(&folder.join(file), file) {
            Ok(logo) => logo,
            Err(problem) => {
                let path = folder.join(file).display().to_string();
                streams.complain(&format!("{path}: {problem}; the papers are made without a logo"))?;
                None
            }
        },
    };
    let Some(templates) = templates(&folder.join("templates"), streams)? else { return Ok(None) };
    Ok(Some(Shop { details, logo, templates }))
}

fn logo(path: &Path, file: &str) -> Result<Option<Logo>, String> {
    let size = std::fs::metadata(path).map_err(|error| text_file::words_for(&error))?.len();
    if size > LARGEST_LOGO {
        return Err(format!("the logo is larger than {} MiB", LARGEST_LOGO / 1024 / 1024));
    }
    let bytes = std::fs::read(path).map_err(|error| text_file::words_for(&error))?;
    Ok(LogoKind::of_file(file).map(|kind| Logo { kind, bytes }))
}

/// The templates by name; none where one of them cannot be read.
fn templates(folder: &Path, streams: &mut Streams) -> io::Result<Option<Vec<(String, String)>>> {
    let Ok(entries) = folder.read_dir() else { return Ok(Some(Vec::new())) };
    let mut paths: Vec<_> = entries
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| path.extension().is_some_and(|extension| extension == "typ"))
        .collect();
    paths.sort();
    let mut templates = Vec::new();
    for path in paths {
        match text_file::read(&path, "a template: a text file in Typst's language, saved as UTF-8") {
            Ok(text) => {
                let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
                templates.push((name, text));
            }
            Err(unreadable) => {
                streams.complain_of_file(&path.display().to_string(), &unreadable)?;
                return Ok(None);
            }
        }
    }
    Ok(Some(templates))
}
