//! The demonstration that the program carries with it: an invented shop and its orders.

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
