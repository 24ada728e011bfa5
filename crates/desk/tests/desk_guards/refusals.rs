//! Refusals as pages: whole sentences, and the way back to where somebody was on this desk and nowhere else.

use axum::body::Body;
use axum::http::Request;

use crate::desk_under_test::open_desk;

#[tokio::test]
async fn a_refusal_leads_back_to_where_one_was_on_this_desk_only() {
    let desk = open_desk().await;
    let back = "<a href=\"/catalog/mistakes\">Back to where you were</a>";
    for (from, leads) in [
        (Some("http://127.0.0.1:8017/catalog/mistakes"), true),
        (Some("http://elsewhere.example/catalog/mistakes"), false),
        (Some("http://127.0.0.1:80170/catalog/mistakes"), false),
        (Some("javascript:alert(1)"), false),
        (None, false),
    ] {
        let mut request = Request::get("/catalog/add/mistakes");
        if let Some(from) = from {
            request = request.header("referer", from);
        }
        let page = desk.ask(request.body(Body::empty()).unwrap()).await.text();
        let sentence = "<p>Mistakes are a closed list: the program has to know what each of them means.</p>";
        assert!(page.contains(sentence), "{page}");
        assert_eq!(page.contains("Back to where you were"), leads, "{from:?}");
        assert_eq!(page.contains(back), leads, "{from:?}");
    }
}
