//! The desk's own files: style, script and lettering. Their addresses carry a digest of what they hold, so that a browser may keep
//! them for ever and still never shows an old one.

use std::sync::LazyLock;

use axum::extract::Path;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use sha2::{Digest, Sha256};

use crate::error::DeskError;
use crate::routes::{Routes, Who};

struct Asset {
    name: &'static str,
    media_type: &'static str,
    bytes: &'static [u8],
}

const ASSETS: [Asset; 7] = [
    // What every page and the page of an order need, then what the other pages add: one file for the browser.
    Asset {
        name: "desk.css",
        media_type: "text/css; charset=utf-8",
        bytes: concat!(include_str!("../assets/desk.css"), include_str!("../assets/pages.css")).as_bytes(),
    },
    Asset { name: "desk.js", media_type: "text/javascript; charset=utf-8", bytes: include_bytes!("../assets/desk.js") },
    Asset {
        name: "drawing.css",
        media_type: "text/css; charset=utf-8",
        bytes: include_bytes!("../assets/drawing.css"),
    },
    Asset {
        name: "order.js",
        media_type: "text/javascript; charset=utf-8",
        bytes: include_bytes!("../assets/order.js"),
    },
    Asset {
        name: "barlow-semi-condensed-400.woff2",
        media_type: "font/woff2",
        bytes: include_bytes!("../assets/fonts/barlow-semi-condensed-400.woff2"),
    },
    Asset {
        name: "barlow-semi-condensed-500.woff2",
        media_type: "font/woff2",
        bytes: include_bytes!("../assets/fonts/barlow-semi-condensed-500.woff2"),
    },
    Asset {
        name: "barlow-semi-condensed-600.woff2",
        media_type: "font/woff2",
        bytes: include_bytes!("../assets/fonts/barlow-semi-condensed-600.woff2"),
    },
];

/// One mark for all files together; the lettering is named by the style, which knows no digests.
static MARK: LazyLock<String> = LazyLock::new(|| {
    let mut hasher = Sha256::new();
    for asset in &ASSETS {
        hasher.update(asset.bytes);
    }
    hasher.finalize().iter().take(6).map(|byte| format!("{byte:02x}")).collect()
});

/// The address of a file.
pub(crate) fn address(name: &str) -> String {
    format!("/assets/{}/{name}", *MARK)
}

/// Registers the files.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes.get("/assets/{mark}/{name}", Who::Anyone, file)
}

async fn file(Path((_, name)): Path<(String, String)>) -> Result<Response, DeskError> {
    let asset =
        ASSETS.iter().find(|asset| asset.name == name).ok_or_else(|| DeskError::none(format!("file {name}")))?;
    let headers = [(CONTENT_TYPE, asset.media_type), (CACHE_CONTROL, "public, max-age=31536000, immutable")];
    Ok((headers, asset.bytes).into_response())
}
