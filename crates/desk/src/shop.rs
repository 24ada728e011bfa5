//! The shop's folder: its own rows of the catalog, and what its papers say of it.

use std::path::{Path, PathBuf};
use std::sync::{Arc, PoisonError, RwLock};

use book::MarkedCatalog;
use catalog::Catalog;
use paperwork::{Logo, LogoKind, Shop, ShopDetails};

use crate::error::DeskError;

/// The shop with its catalog. The catalog can be changed while the desk is open.
pub(crate) struct ShopRoom {
    folder: PathBuf,
    catalog: RwLock<Arc<MarkedCatalog>>,
    papers: Arc<Shop>,
}

/// What the letterhead says where the shop has not entered its name.
const NO_SHOP: &str = "Axlewright";

impl ShopRoom {
    /// Reads the folder.
    ///
    /// # Errors
    ///
    /// A file cannot be read or holds faults.
    pub fn open(folder: PathBuf) -> Result<Self, DeskError> {
        let catalog = MarkedCatalog::new(load(&own_files(&folder)?)?);
        let papers = Arc::new(papers(&folder)?);
        Ok(Self { folder, catalog: RwLock::new(Arc::new(catalog)), papers })
    }

    /// What the papers say of the shop, with logo and templates.
    pub fn papers(&self) -> Arc<Shop> {
        self.papers.clone()
    }

    /// The catalog as it stands.
    pub fn catalog(&self) -> Arc<MarkedCatalog> {
        self.catalog.read().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// The folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }
}

/// The shop's own files of the catalog: name and text, by name.
fn own_files(folder: &Path) -> Result<Vec<(String, String)>, DeskError> {
    let catalog = folder.join("catalog");
    let Ok(entries) = catalog.read_dir() else { return Ok(Vec::new()) };
    let mut paths: Vec<PathBuf> = entries
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .collect();
    paths.sort();
    paths
        .into_iter()
        .map(|path| {
            let name = path.display().to_string();
            let text = std::fs::read_to_string(&path).map_err(|error| {
                DeskError::refused(format!("{name}: {error}"), "a text file in TOML, saved as UTF-8")
            })?;
            Ok((name, text))
        })
        .collect()
}

fn load(files: &[(String, String)]) -> Result<Catalog, DeskError> {
    Ok(if files.is_empty() { Catalog::shipped()? } else { Catalog::with_folder(files)? })
}

/// The letterhead, its logo and the shop's own templates.
fn papers(folder: &Path) -> Result<Shop, DeskError> {
    let path = folder.join("shop.toml");
    if !path.exists() {
        return Ok(Shop {
            details: ShopDetails { name: NO_SHOP.to_owned(), ..ShopDetails::default() },
            ..Shop::default()
        });
    }
    let details = paperwork::read_shop(&path.display().to_string(), &text_of(&path)?)?;
    let logo = details.logo.as_deref().and_then(|file| {
        let bytes = std::fs::read(folder.join(file)).ok()?;
        LogoKind::of_file(file).map(|kind| Logo { kind, bytes })
    });
    let mut templates = Vec::new();
    if let Ok(entries) = folder.join("templates").read_dir() {
        for path in entries.filter_map(|entry| entry.ok().map(|entry| entry.path())) {
            if path.extension().is_some_and(|extension| extension == "typ") {
                let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
                templates.push((name, text_of(&path)?));
            }
        }
    }
    templates.sort();
    Ok(Shop { details, logo, templates })
}

fn text_of(path: &Path) -> Result<String, DeskError> {
    std::fs::read_to_string(path)
        .map_err(|error| DeskError::refused(format!("{}: {error}", path.display()), "a text file, saved as UTF-8"))
}
