//! What a shop's papers say of it: `shop.toml`, the logo that it names, and `templates/*.typ`.

use std::path::Path;

use paperwork::{Logo, LogoKind, Shop, read_shop};

use crate::logo::{LARGEST_LOGO, LOGO_ACCEPTED, check_logo};
use crate::problem::Problems;
use crate::text_file;

/// A shop's folder as it was read.
#[derive(Debug, Clone, Default)]
pub struct LoadedShop {
    /// The shop.
    pub shop: Shop,
    /// What is amiss and keeps nothing from being printed: a logo that is not there or may not go onto papers.
    pub warnings: Vec<String>,
}

/// Loads what a folder says of its shop. A logo that is not there is a warning, and so is one that may not go onto papers: they
/// are made without it.
///
/// # Errors
///
/// `shop.toml` or a template cannot be read, or `shop.toml` holds faults.
pub fn load_shop(folder: &Path) -> Result<LoadedShop, Problems> {
    let path = folder.join("shop.toml");
    let name = path.display().to_string();
    let text = text_file::read(&path, "a folder with a shop.toml: a text file in TOML, saved as UTF-8")
        .map_err(|why| Problems::unreadable(&name, why))?;
    let details = read_shop(&name, &text)?;
    let mut warnings = Vec::new();
    let logo = match &details.logo {
        None => None,
        Some(file) => logo(&folder.join(file), file).unwrap_or_else(|problem| {
            let path = folder.join(file).display().to_string();
            warnings
                .push(format!("{path}: {problem}; the papers are made without a logo\n  accepted: {LOGO_ACCEPTED}"));
            None
        }),
    };
    let templates = templates(&folder.join("templates"))?;
    Ok(LoadedShop { shop: Shop { details, logo, templates }, warnings })
}

fn logo(path: &Path, file: &str) -> Result<Option<Logo>, String> {
    let size = std::fs::metadata(path).map_err(|error| text_file::words_for(&error))?.len();
    if size > LARGEST_LOGO {
        return Err(format!("the logo is larger than {} MiB", LARGEST_LOGO / 1024 / 1024));
    }
    let bytes = std::fs::read(path).map_err(|error| text_file::words_for(&error))?;
    let Some(kind) = LogoKind::of_file(file) else { return Ok(None) };
    check_logo(kind, &bytes)?;
    Ok(Some(Logo { kind, bytes }))
}

/// The templates by name.
fn templates(folder: &Path) -> Result<Vec<(String, String)>, Problems> {
    let Ok(entries) = folder.read_dir() else { return Ok(Vec::new()) };
    let mut paths: Vec<_> = entries
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| path.extension().is_some_and(|extension| extension == "typ"))
        .collect();
    paths.sort();
    paths
        .into_iter()
        .map(|path| {
            let text = text_file::read(&path, "a template: a text file in Typst's language, saved as UTF-8")
                .map_err(|why| Problems::unreadable(path.display().to_string(), why))?;
            let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
            Ok((name, text))
        })
        .collect()
}
