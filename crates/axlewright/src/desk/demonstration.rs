//! The demonstration that the program carries with it: an invented shop, its orders, and what became of them.

mod story;
mod telling;

use std::path::{Path, PathBuf};

use desk::{Desk, DeskError};
use jiff::Timestamp;

/// The orders: name of the file and sheet.
pub const ORDERS: [(&str, &str); 26] = [
    ("01-hay-truck.toml", include_str!("../../../../demo/orders/01-hay-truck.toml")),
    ("02-market-wagon.toml", include_str!("../../../../demo/orders/02-market-wagon.toml")),
    ("03-quarry-tug.toml", include_str!("../../../../demo/orders/03-quarry-tug.toml")),
    ("04-firewood-hauler.toml", include_str!("../../../../demo/orders/04-firewood-hauler.toml")),
    ("05-orchard-runabout.toml", include_str!("../../../../demo/orders/05-orchard-runabout.toml")),
    ("06-ferry-shuttle.toml", include_str!("../../../../demo/orders/06-ferry-shuttle.toml")),
    ("07-bare-housing.toml", include_str!("../../../../demo/orders/07-bare-housing.toml")),
    ("08-lake-tender.toml", include_str!("../../../../demo/orders/08-lake-tender.toml")),
    ("09-hill-racer.toml", include_str!("../../../../demo/orders/09-hill-racer.toml")),
    ("10-feed-van.toml", include_str!("../../../../demo/orders/10-feed-van.toml")),
    ("11-apiary-truck.toml", include_str!("../../../../demo/orders/11-apiary-truck.toml")),
    ("12-drag-car.toml", include_str!("../../../../demo/orders/12-drag-car.toml")),
    ("13-metric-camper.toml", include_str!("../../../../demo/orders/13-metric-camper.toml")),
    ("14-ranch-hauler.toml", include_str!("../../../../demo/orders/14-ranch-hauler.toml")),
    ("15-salt-wagon.toml", include_str!("../../../../demo/orders/15-salt-wagon.toml")),
    ("16-hill-climb.toml", include_str!("../../../../demo/orders/16-hill-climb.toml")),
    ("17-fence-builder.toml", include_str!("../../../../demo/orders/17-fence-builder.toml")),
    ("18-peat-carrier.toml", include_str!("../../../../demo/orders/18-peat-carrier.toml")),
    ("19-brick-tipper.toml", include_str!("../../../../demo/orders/19-brick-tipper.toml")),
    ("20-water-tug.toml", include_str!("../../../../demo/orders/20-water-tug.toml")),
    ("21-seed-wagon.toml", include_str!("../../../../demo/orders/21-seed-wagon.toml")),
    ("22-reed-cutter.toml", include_str!("../../../../demo/orders/22-reed-cutter.toml")),
    ("23-milk-float.toml", include_str!("../../../../demo/orders/23-milk-float.toml")),
    ("24-kiln-loader.toml", include_str!("../../../../demo/orders/24-kiln-loader.toml")),
    ("25-bakery-van.toml", include_str!("../../../../demo/orders/25-bakery-van.toml")),
    ("26-camp-kitchen.toml", include_str!("../../../../demo/orders/26-camp-kitchen.toml")),
];

/// The shop's folder: path within it and text.
pub const SHOP: [(&str, &str); 5] = [
    ("catalog/brakes.toml", include_str!("../../../../demo/shop/catalog/brakes.toml")),
    ("catalog/differentials.toml", include_str!("../../../../demo/shop/catalog/differentials.toml")),
    ("catalog/housing_ends.toml", include_str!("../../../../demo/shop/catalog/housing_ends.toml")),
    ("logo.svg", include_str!("../../../../demo/shop/logo.svg")),
    ("shop.toml", include_str!("../../../../demo/shop/shop.toml")),
];

/// The folder of the demonstration: where the user's programs keep their data.
///
/// # Errors
///
/// The folder cannot be made.
pub fn folder() -> Result<PathBuf, DeskError> {
    let set = |name: &str| std::env::var_os(name).map(PathBuf::from).filter(|path| path.is_absolute());
    let data = set("XDG_DATA_HOME")
        .or_else(|| set("HOME").map(|home| home.join(".local").join("share")))
        .or_else(|| set("LOCALAPPDATA"))
        .unwrap_or_else(std::env::temp_dir);
    let folder = data.join("axlewright").join("demonstration");
    made(&folder)?;
    Ok(folder)
}

fn made(folder: &Path) -> Result<(), DeskError> {
    std::fs::create_dir_all(folder).map_err(|error| refused(folder, &error))
}

fn refused(path: &Path, error: &std::io::Error) -> DeskError {
    DeskError::Refused {
        problem: format!("{}: {error}", path.display()),
        accepted: "a folder that this user may write to; the environment variable XDG_DATA_HOME names another one"
            .to_owned(),
    }
}

/// Puts what was entered so far aside, under a name with the time, and says where it is now.
///
/// # Errors
///
/// Something cannot be renamed.
pub fn put_aside(folder: &Path) -> Result<Vec<PathBuf>, DeskError> {
    let stamp = Timestamp::now().strftime("%Y%m%d-%H%M%S").to_string();
    let mut moved = Vec::new();
    for name in ["orders.db", "orders.db-wal", "orders.db-shm", "shop"] {
        let from = folder.join(name);
        if !from.exists() {
            continue;
        }
        // The files beside a database are found by its name.
        let to = folder.join(name.replacen("orders", &format!("orders-{stamp}"), 1).replacen(
            "shop",
            &format!("shop-{stamp}"),
            1,
        ));
        std::fs::rename(&from, &to).map_err(|error| refused(&from, &error))?;
        moved.push(to);
    }
    Ok(moved)
}

/// Writes the files of the shop that are not there. One that was changed stays.
///
/// # Errors
///
/// A file cannot be written.
pub fn write_shop(folder: &Path) -> Result<(), DeskError> {
    for (name, text) in SHOP {
        let path = folder.join(name);
        if let Some(parent) = path.parent() {
            made(parent)?;
        }
        if !path.exists() {
            std::fs::write(&path, text).map_err(|error| refused(&path, &error))?;
        }
    }
    Ok(())
}

/// Begins to take the orders in, while the desk is open already; every page says how far it is.
pub fn begin(desk: &Desk) {
    let desk = desk.clone();
    tokio::spawn(async move {
        let outcome = fill(&desk).await;
        let failed = outcome.err().map(|error| format!("The demonstration is not whole: {error}"));
        if let Some(problem) = &failed {
            tracing::error!(problem);
        }
        desk.set_notice(failed.as_deref());
    });
}

async fn fill(desk: &Desk) -> Result<(), DeskError> {
    let progress = |done: usize, of: usize| {
        desk.set_notice(Some(&format!("The demonstration is being made: {done} of {of} things have happened so far.")));
    };
    telling::tell(desk.book(), &desk.catalog(), Timestamp::now(), progress).await
}
