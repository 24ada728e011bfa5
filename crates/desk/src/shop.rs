//! The shop's folder: its own rows of the catalog, and what its papers say of it.

use std::path::{Path, PathBuf};
use std::sync::{Arc, PoisonError, RwLock};

use book::MarkedCatalog;
use catalog::Catalog;

use crate::error::DeskError;

/// The shop with its catalog. The catalog can be changed while the desk is open.
pub(crate) struct ShopRoom {
    folder: PathBuf,
    catalog: RwLock<Arc<MarkedCatalog>>,
}

impl ShopRoom {
    /// Reads the folder.
    ///
    /// # Errors
    ///
    /// A file cannot be read or holds faults.
    pub fn open(folder: PathBuf) -> Result<Self, DeskError> {
        let catalog = MarkedCatalog::new(load(&own_files(&folder)?)?);
        Ok(Self { folder, catalog: RwLock::new(Arc::new(catalog)) })
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
