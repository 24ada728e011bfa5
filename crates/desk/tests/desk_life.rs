//! The life of an order beside its sheet: moves, papers, history, messages and photos, the bench, the second entry, import and export.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod desk_under_test;

use axum::body::Body;
use axum::http::Request;
use axum::http::header::CONTENT_TYPE;
use book::{MoveRequest, Person, ReviewedSheet, Role, State};

use desk_under_test::{Answer, DeskUnderTest, at, catalog, demo, desk_with_accounts, open_desk};

fn move_fields<'f>(from: &'f str, to: &'f str, reason: &'f str) -> [(&'f str, &'f str); 4] {
    [("revision", "1"), ("from", from), ("to", to), ("reason", reason)]
}

/// A form with files: name of the field, name of the file where it is one, bytes.
async fn upload(desk: &DeskUnderTest, path: &str, parts: &[(&str, Option<&str>, &[u8])]) -> Answer {
    const BOUNDARY: &str = "-----------a-boundary-that-no-file-holds";
    let mut body: Vec<u8> = Vec::new();
    for (name, file, bytes) in parts {
        body.extend(format!("--{BOUNDARY}\r\ncontent-disposition: form-data; name=\"{name}\"").bytes());
        if let Some(file) = file {
            body.extend(format!("; filename=\"{file}\"\r\ncontent-type: application/octet-stream").bytes());
        }
        body.extend(b"\r\n\r\n");
        body.extend(*bytes);
        body.extend(b"\r\n");
    }
    body.extend(format!("--{BOUNDARY}--\r\n").bytes());
    let request = Request::post(path)
        .header(CONTENT_TYPE, format!("multipart/form-data; boundary={BOUNDARY}"))
        .header("sec-fetch-site", "same-origin");
    desk.ask(request.body(Body::from(body)).unwrap()).await
}

fn wenna() -> Person {
    Person::new("Wenna Tarrow", Role::Desk)
}

#[tokio::test]
async fn an_approval_reaches_the_papers() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    let before = desk.get("/orders/1/papers").await.text();
    assert!(before.contains("Not for manufacture") && before.contains("Approve to cut"));
    let drawn = desk.get("/orders/1/drawing/shaft.svg").await.text();
    assert!(drawn.to_lowercase().contains("not for manufacture"));

    let moved = desk.post("/orders/1/move", &move_fields("received", "approved-to-cut", "")).await;
    assert_eq!(moved.status, 303);
    assert_eq!(moved.header("location"), "/orders/1/papers?was=received");
    let after = desk.get("/orders/1/papers?was=received").await.text();
    assert!(after.contains("Approved for manufacture") && after.contains("This desk"));
    assert!(after.contains("The way back") && after.contains("Take the approval back"));
    let drawn = desk.get("/orders/1/drawing/shaft.svg").await;
    assert!(!drawn.text().to_lowercase().contains("not for manufacture"));
    assert_eq!(drawn.header("content-type"), "image/svg+xml");

    let packet = desk.get("/orders/1/papers/packet.pdf?page=a4&units=dual").await;
    assert_eq!(packet.status, 200);
    assert!(packet.bytes.starts_with(b"%PDF-"));
    assert!(packet.header("content-disposition").contains("filename=\"Q-0101-packet.pdf\""));
    assert_eq!(desk.get("/orders/1/papers/nothing.pdf").await.status, 404);
    assert_eq!(desk.get("/orders/1/papers/packet.pdf?units=ell").await.status, 422);
}

#[tokio::test]
async fn drawings_solids_and_the_review_are_files() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    let svg = desk.get("/orders/1/drawing/pair.svg?standard=iso&units=millimetre").await.text();
    roxmltree::Document::parse(&svg).unwrap();
    roxmltree::Document::parse(&desk.get("/orders/1/stress.svg").await.text()).unwrap();
    let dxf = desk.get("/orders/1/drawing/flange.dxf?side=right").await;
    assert_eq!(dxf.header("content-type"), "image/vnd.dxf");
    assert!(dxf.header("content-disposition").starts_with("attachment; filename=\"Q-0101-flange-right.dxf\""));
    let step = desk.get("/orders/1/solid/left.step").await;
    assert!(step.text().starts_with("ISO-10303-21;"));
    let review: serde_json::Value = serde_json::from_slice(&desk.get("/orders/1/review.json").await.bytes).unwrap();
    assert_eq!(review["reference"], "Q-0101");
    for missing in ["/orders/1/drawing/roof.svg", "/orders/1/solid/left.obj", "/orders/2/review.json"] {
        assert_eq!(desk.get(missing).await.status, 404, "{missing}");
    }
}

#[tokio::test]
async fn ask_is_overruled_with_a_reason_alone() {
    let desk = open_desk().await;
    desk.place("05-orchard-runabout").await;
    let refused = desk.post("/orders/1/move", &move_fields("received", "approved-to-cut", " ")).await;
    assert_eq!(refused.status, 422);
    assert!(refused.text().contains("its review says ask"));
    let moved =
        desk.post("/orders/1/move", &move_fields("received", "approved-to-cut", "the old shaft lies here")).await;
    assert_eq!(moved.status, 303);
    let papers = desk.get("/orders/1/papers").await.text();
    assert!(papers.contains("Approved for manufacture") && papers.contains("the old shaft lies here"));
    assert_eq!(desk.book().order(1).await.unwrap().line.overruled.as_deref(), Some("the old shaft lies here"));
}

#[tokio::test]
async fn stop_cannot_be_approved_by_anybody() {
    let desk = open_desk().await;
    desk.place("12-drag-car").await;
    let page = desk.get("/orders/1/papers").await.text();
    assert!(!page.contains("value=\"approved-to-cut\""), "there is no form for it");
    assert!(page.contains("Nobody can overrule that"));
    let refused = desk.post("/orders/1/move", &move_fields("received", "approved-to-cut", "we know better")).await;
    assert_eq!(refused.status, 422);
    let text = refused.text();
    assert!(text.contains("its review says stop") && text.contains("we know better"), "what was typed is still there");
    assert_eq!(desk.book().order(1).await.unwrap().line.state, State::Received);
}

#[tokio::test]
async fn who_may_not_move_is_told_so() {
    let desk = desk_with_accounts().await;
    desk.place("01-hay-truck").await;
    let (floor, looker) = (desk.sign_in(Role::Floor).await, desk.sign_in(Role::ReadOnly).await);
    let fields = move_fields("received", "approved-to-cut", "");
    for session in [&floor, &looker] {
        assert_eq!(desk.post_as(Some(session), "/orders/1/move", &fields).await.status, 403);
        assert!(!desk.get_as(Some(session), "/orders/1/papers").await.text().contains("Approve to cut"));
    }
    assert_eq!(desk.post_as(Some(&looker), "/orders/1/floor", &[("revision", "1")]).await.status, 403);
    assert_eq!(desk.get_as(Some(&floor), "/orders/import").await.status, 403);
    assert_eq!(desk.get_as(Some(&floor), "/export").await.status, 403);
    assert_eq!(desk.book().order(1).await.unwrap().line.state, State::Received);
}

#[tokio::test]
async fn whoever_has_seen_an_older_revision_writes_nothing() {
    let desk = open_desk().await;
    let line = desk.place("01-hay-truck").await;
    desk.revise(&line, "0.421", "0.422").await;
    let refused = desk.post("/orders/1/move", &move_fields("received", "closed", "the customer is gone")).await;
    assert_eq!(refused.status, 409);
    let text = refused.text();
    assert!(text.contains("revision 2") && text.contains("Wenna Tarrow") && text.contains("the customer is gone"));
    assert_eq!(desk.book().order(1).await.unwrap().line.state, State::Received);
}

#[tokio::test]
async fn revisions_and_orders_are_set_side_by_side() {
    let desk = open_desk().await;
    let line = desk.place("01-hay-truck").await;
    desk.place("02-market-wagon").await;
    desk.revise(&line, "0.421", "0.422").await;
    let text = |answer: Answer| answer.text().replace('\u{a0}', " ");
    let compared = text(desk.get("/orders/1/compare?from=1&to=2").await);
    assert_eq!(compared.matches("≠ differs").count(), 1);
    assert!(compared.contains("0.421 in") && compared.contains("0.422 in"));
    assert!(compared.contains("+ flange_thickness      = &quot;0.422&quot;"));
    let history = text(desk.get("/orders/1/history").await);
    assert!(history.contains(" UTC</span>"), "a time says where it holds");
    assert!(history.contains("read again") && history.contains("<del>0.421 in</del>"));
    let beside = text(desk.get("/orders/1/compare?other=q-0102").await);
    assert!(beside.contains("Decided sizes") && beside.contains("≠ differs") && beside.contains("Q-0102"));
    assert!(beside.contains("2.13 in; 2.14 in; 2.13 in"), "a bare number says its unit: {beside}");
    assert!(beside.contains("1.3788 in [35.021 mm]"), "a size is written as on its sheet: {beside}");
    let parts = beside.split("<caption>Parts").nth(1).unwrap().split("</thead>").next().unwrap();
    assert!(!parts.contains("larger by"), "parts have no size to be larger by");
    assert_eq!(desk.get("/orders/1/compare?from=1&to=9").await.status, 404);
    assert_eq!(desk.get("/orders/1/compare?other=Q-9999").await.status, 404);
    assert_eq!(desk.get("/orders/1/compare").await.status, 422);
    assert_eq!(desk.get("/orders/1/compare?other=Q-0101").await.status, 422);
}

#[tokio::test]
async fn the_list_says_in_which_order_it_is_and_where_orders_come_and_go() {
    let desk = desk_with_accounts().await;
    desk.place("01-hay-truck").await;
    let (owner, clerk) = (desk.sign_in(Role::Owner).await, desk.sign_in(Role::Desk).await);
    let untouched = desk.get_as(Some(&owner), "/").await.text();
    let order =
        |page: &str| page.split("<span class=\"order\">").nth(1).unwrap().split("</div>").next().unwrap().to_owned();
    assert!(order(&untouched).contains("by what is to be done") && !order(&untouched).contains("aria-current"));
    let newest = desk.get_as(Some(&owner), "/?sort=newest").await.text();
    assert!(order(&newest).contains("aria-current=\"true\">newest first"), "{}", order(&newest));
    let searched = desk.get_as(Some(&owner), "/?search=hay").await.text();
    assert!(order(&searched).contains("aria-current=\"true\">newest first"), "{}", order(&searched));
    assert!(searched.contains("counted over all orders") && !newest.contains("counted over all orders"));
    let lost = desk.get_as(Some(&owner), "/?state=lost").await;
    assert!(lost.status == 422 && lost.text().contains("There is no state <code>lost</code>."), "{}", lost.text());
    assert!(lost.text().contains("approved to cut, in work"), "{}", lost.text());
    let changed = desk.get_as(Some(&owner), "/?sort=changed").await.text();
    assert!(order(&changed).contains("aria-current=\"true\">last changed first"), "{}", order(&changed));
    let leads = |page: &str, to: &str| page.contains(&format!("href=\"{to}\""));
    assert!(leads(&untouched, "/orders/import") && leads(&untouched, "/export"));
    let page = desk.get_as(Some(&clerk), "/").await.text();
    assert!(leads(&page, "/orders/import") && !leads(&page, "/export"), "the whole book is the owner's");
}

#[tokio::test]
async fn a_page_can_tell_its_single_keys_once_somebody_is_signed_in() {
    let desk = desk_with_accounts().await;
    let reader = desk.sign_in(Role::ReadOnly).await;
    let page = desk.get_as(Some(&reader), "/").await.text();
    let button = page.split("data-tells-keys").nth(1).unwrap().split("</button>").next().unwrap();
    assert!(
        button.contains("data-key=\"?\"") && button.contains("hidden"),
        "it is of use with the script alone: {button}"
    );
    let settings = desk.get_as(Some(&reader), "/settings").await.text();
    assert!(settings.contains("<select id=\"keys\""), "where the window leads to switch them off");
    assert!(!desk.get_as(None, "/sign-in").await.text().contains("data-tells-keys"));
}

#[tokio::test]
async fn messages_are_kept_in_both_directions() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    let words = "The drum is <b>3</b> in";
    let sent = desk.post("/orders/1/messages", &[("direction", "from customer"), ("words", words)]).await;
    assert_eq!(sent.status, 303);
    let page = desk.get("/orders/1/messages").await.text();
    assert!(page.contains("The drum is &lt;b&gt;3&lt;/b&gt; in") && page.contains("← From the customer"));
    let lost = desk.post("/orders/1/messages", &[("direction", "sideways"), ("words", "do not lose me")]).await;
    assert_eq!(lost.status, 422);
    assert!(lost.text().contains("do not lose me"));
}

/// A JPEG with an EXIF block (CIPA DC-008) that names the camera's maker.
fn telling_jpeg() -> Vec<u8> {
    use image::ImageEncoder;
    let mut block = b"II*\0\x08\0\0\0\x01\0".to_vec();
    block.extend([0x0f, 0x01, 2, 0, 14, 0, 0, 0, 26, 0, 0, 0, 0, 0, 0, 0]);
    block.extend(b"SecretMaker55\0");
    let picture = image::RgbImage::from_pixel(64, 32, image::Rgb([220, 0, 0]));
    let mut bytes = Vec::new();
    let mut encoder = image::codecs::jpeg::JpegEncoder::new(&mut bytes);
    encoder.set_exif_metadata(block).unwrap();
    encoder.write_image(&picture, 64, 32, image::ExtendedColorType::Rgb8).unwrap();
    bytes
}

fn holds(bytes: &[u8], words: &[u8]) -> bool {
    bytes.windows(words.len()).any(|window| window == words)
}

#[tokio::test]
async fn photos_come_in_without_what_they_tell_of_their_maker() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    desk.place("02-market-wagon").await;
    let sent = telling_jpeg();
    assert!(holds(&sent, b"SecretMaker55"));
    let heic: &[u8] = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic";
    let parts = [
        ("caption", None, "left flange".as_bytes()),
        ("photos", Some("flange.jpg"), sent.as_slice()),
        ("photos", Some("phone.heic"), heic),
    ];
    let answer = upload(&desk, "/orders/1/photos", &parts).await;
    assert_eq!(answer.status, 422);
    let text = answer.text();
    assert!(text.contains("1 came in; these did not") && text.contains("phone.heic") && text.contains("HEIC"));
    let photos = desk.book().photos(1).await.unwrap();
    assert_eq!((photos.len(), photos[0].caption.as_str()), (1, "left flange"));
    for end in ["picture", "thumbnail"] {
        let picture = desk.get(&format!("/orders/1/photos/1/{end}")).await;
        assert_eq!(
            (picture.header("content-type"), picture.header("x-content-type-options")),
            ("image/jpeg", "nosniff")
        );
        assert!(picture.header("content-security-policy").contains("sandbox"));
        assert!(picture.bytes.starts_with(&[0xff, 0xd8, 0xff]) && !holds(&picture.bytes, b"SecretMaker55"));
    }
    assert!(desk.get("/orders/1/photos/1").await.text().contains("left flange"));
    assert_eq!(desk.get("/orders/2/photos/1/picture").await.status, 404, "it is the photo of another order");
}

#[tokio::test]
async fn bombs_wrong_files_and_what_is_too_long_are_refused() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    let mut png = std::io::Cursor::new(Vec::new());
    image::DynamicImage::ImageRgb8(image::RgbImage::new(40, 30)).write_to(&mut png, image::ImageFormat::Png).unwrap();
    let mut bomb = png.into_inner();
    bomb[16..24].copy_from_slice(&[0, 0, 0xff, 0xff, 0, 0, 0xff, 0xff]);
    let long = vec![0xff; book::LARGEST_UPLOAD + 1];
    let cases: [(&str, &[u8]); 3] = [("bomb.png", &bomb), ("page.svg", b"<svg onload=alert(1)>"), ("long.jpg", &long)];
    for (name, bytes) in cases {
        let answer = upload(&desk, "/orders/1/photos", &[("photos", Some(name), bytes)]).await;
        assert_eq!(answer.status, 422, "{name}");
        assert!(
            answer.text().contains("Nothing came in") && answer.text().contains("Accepted: a photo as JPEG"),
            "{name}"
        );
    }
    let endless = vec![0_u8; 7 * book::LARGEST_UPLOAD];
    let answer = upload(&desk, "/orders/1/photos", &[("photos", Some("endless.jpg"), &endless)]).await;
    assert_eq!(answer.status, 422);
    assert!(answer.text().contains("photos of at most 20 MB each"));
    assert!(desk.book().photos(1).await.unwrap().is_empty());
}

async fn in_work(desk: &DeskUnderTest) {
    for (from, to) in [(State::Received, State::Approved), (State::Approved, State::InWork)] {
        let request = MoveRequest { seen_revision: 1, from, to, reason: None };
        desk.book().move_order(1, request, &wenna(), at(3)).await.unwrap();
    }
}

#[tokio::test]
async fn the_bench_says_at_once_what_a_size_means() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    assert!(!desk.get("/orders/1/floor").await.text().contains("<input id=\"size-"), "nothing is made yet");
    in_work(&desk).await;
    let page = desk.get("/orders/1/floor").await.text();
    let (cut, harden) = (page.find("Cut and centre").unwrap(), page.find("Grind the seats").unwrap());
    assert!(cut < harden && page.contains("size.journal_diameter.left"));
    let judged = |value: &str| {
        let path = format!("/orders/1/floor?size.journal_diameter.left={value}");
        let desk = &desk;
        async move { desk.get(&path).await.text() }
    };
    assert!(page.contains("size.journal_diameter.right"), "what is alike is measured on each shaft");
    assert!(!page.contains("____"), "a blank is for the pen");
    assert!(page.contains("Depth in the body, target") && page.contains(".197\u{a0}in, assumed"));
    assert_eq!(page.matches("sizes measured").count(), 1, "it is told once how much is measured");
    assert!(judged("2").await.contains("can be cut again"));
    assert!(judged("1").await.contains("scrap"));
    assert!(judged("wide").await.contains("Accepted: "));
    assert!(desk.book().inspections(1).await.unwrap().is_empty(), "looking writes nothing");

    let review = ReviewedSheet::read("sheet", &demo("01-hay-truck"), catalog()).unwrap().review;
    let journal = review.dimension(axle::DimensionKind::JournalDiameter, None).unwrap();
    let middle = quantity::decimal_inches((journal.least + journal.most) / 2.0, 5);
    let fields =
        [("revision", "1"), ("size.journal_diameter.left", middle.as_str()), ("size.flange_diameter.right", "1")];
    assert_eq!(desk.post("/orders/1/floor", &fields).await.status, 303);
    let kept = desk.book().inspections(1).await.unwrap();
    assert_eq!(kept.iter().map(|one| one.passed).collect::<Vec<_>>(), [false, true], "in the order of the dimensions");
    let page = desk.get("/orders/1/floor").await.text();
    assert!(page.contains("within limits") && page.contains("1 out of limits") && page.contains("2 of "));
    let faulty = desk.post("/orders/1/floor", &[("revision", "1"), ("size.journal_diameter.left", "wide")]).await;
    assert_eq!(faulty.status, 422);
    assert!(faulty.text().contains("value=\"wide\""));
    assert_eq!(
        desk.post("/orders/1/floor", &[("revision", "7"), ("size.journal_diameter.left", "1.5")]).await.status,
        409
    );
    let refused = desk.post("/orders/1/move", &move_fields("in-work", "inspected", "")).await;
    assert_eq!(refused.status, 422);
    assert!(refused.text().contains("out of limits: flange diameter right"), "{}", refused.text());
    let moved =
        desk.post("/orders/1/move", &move_fields("in-work", "inspected", "the customer takes it as it is")).await;
    assert_eq!(moved.header("location"), "/orders/1/floor?was=in-work");
}

#[tokio::test]
async fn what_the_work_leaves_is_written_down_and_goes_onto_the_papers() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    in_work(&desk).await;
    let page = desk.get("/orders/1/floor").await.text();
    for name in ["heat_number.left", "size_over_pins.right", "bearing_press_force.left", "ring_press_force.right"] {
        assert!(page.contains(&format!("name=\"record.{name}\"")), "{name}");
    }
    assert!(page.contains("Still to be written down: heat number of the steel"), "{page}");
    assert!(!page.contains("written down: bearing ____"), "there is a field for it");

    // What is typed is judged at once and written nowhere.
    let judged = |query: &str| {
        let path = format!("/orders/1/floor?{query}");
        let desk = &desk;
        async move { desk.get(&path).await.text() }
    };
    assert!(judged("record.ring_press_force.left=1+lbf").await.contains("too little: fit a tighter ring"));
    assert!(judged("record.ring_press_force.left=200+kN").await.contains("200 kN (44962 lbf)"));
    assert!(judged("record.ring_press_force.left=9000").await.contains("the force has no unit"));
    assert!(
        judged("record.size_over_pins.left=1.4&record.size_over_pins.left.pin=").await.contains("without its pins")
    );
    let other_pins = judged("record.size_over_pins.left=1.4&record.size_over_pins.left.pin=0.2").await;
    assert!(other_pins.contains("not judged, the limits are for other pins"), "{other_pins}");
    assert!(desk.book().work_records(1).await.unwrap().is_empty(), "looking writes nothing");

    let faulty = [("revision", "1"), ("record.heat_number.left", "H-4711"), ("record.ring_press_force.left", "much")];
    let refused = desk.post("/orders/1/floor", &faulty).await;
    assert_eq!(refused.status, 422);
    assert!(refused.text().contains("value=\"H-4711\"") && refused.text().contains("value=\"much\""));
    let fields = [
        ("revision", "1"),
        ("record.heat_number.left", "H-4711"),
        ("record.heat_number.right", "H-4712"),
        ("record.bearing_press_force.left", "2500 lbf"),
        ("record.ring_press_force.left", "200 kN"),
    ];
    assert_eq!(desk.post("/orders/1/floor", &fields).await.status, 303);
    let kept = desk.book().work_records(1).await.unwrap();
    let told: Vec<_> = kept.iter().map(|one| (one.record.written.as_str(), one.record.passed)).collect();
    assert_eq!(told, [("H-4711", None), ("H-4712", None), ("2500 lbf", None), ("200 kN", Some(true))]);
    assert!(kept.iter().all(|one| one.who == "This desk" && one.at == at(60)));
    let history = desk.get("/orders/1/history").await.text();
    assert!(history.contains("heat number of the steel") && history.contains("H-4711"), "{history}");
    let data = desk.get("/api/v1/orders/1/records").await.text();
    assert!(data.contains("\"newtons\":200000.0") && data.contains("\"kind\":\"heat_number\""), "{data}");
}

/// The value of the hidden field with the orders of a preview.
fn carried(page: &str) -> String {
    let (_, behind) = page.split_once("name=\"orders\" value=\"").unwrap();
    let (value, _) = behind.split_once("\">").unwrap();
    value.replace("&quot;", "\"").replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&")
}

#[tokio::test]
async fn an_import_is_seen_before_it_is_written() {
    let desk = open_desk().await;
    desk.place("02-market-wagon").await;
    let table = "reference,use,sides,unit,customer,left overall length\n\
                 N-1,street,left,in,Weir Dairy,29 1/32\nN-2,street,left,in,Weir Dairy,thirty\nN-1,street,left,in,Weir Dairy,30\n";
    let (good, taken) = (demo("01-hay-truck"), demo("02-market-wagon"));
    let parts = [
        ("files", Some("table.csv"), table.as_bytes()),
        ("files", Some("hay.toml"), good.as_bytes()),
        ("files", Some("market.toml"), taken.as_bytes()),
        ("files", Some("broken.toml"), b"[order]\nreference = 5\n".as_slice()),
        ("files", Some("picture.gif"), b"GIF89a".as_slice()),
    ];
    let answer = upload(&desk, "/orders/import", &parts).await;
    assert_eq!(answer.status, 200);
    let text = answer.text();
    assert!(text.contains("2 can come in, 5 cannot"), "{text}");
    let verdicts =
        text.split("aria-label=\"Orders of the files, table\"").nth(1).unwrap().split("</table>").next().unwrap();
    assert_eq!(
        (verdicts.matches("stays outside").count(), verdicts.matches("mark mark-").count()),
        (5, 2),
        "{verdicts}"
    );
    assert!(text.contains("row 3, column <code>left overall length</code>") && text.contains("broken.toml:2:"));
    assert!(text.contains("is taken by order 1 in the book") && text.contains("stands in table.csv, row 2 already"));
    assert!(text.contains("a name that ends with .toml, .csv or .xlsx"));
    assert!(desk.book().order(2).await.is_err(), "nothing is written yet");

    let orders = carried(&text);
    let saved = upload(&desk, "/orders/import/save", &[("orders", None, orders.as_bytes())]).await;
    assert_eq!(saved.status, 303);
    let order = desk.book().order_by_reference("Q-0101").await.unwrap();
    assert_eq!(order.sheet, good, "not a character is lost on the way");
    assert_eq!(desk.book().order_by_reference("N-1").await.unwrap().line.details.customer, "Weir Dairy");
    let twice = upload(&desk, "/orders/import/save", &[("orders", None, orders.as_bytes())]).await;
    assert_eq!(twice.status, 422, "all or none, and these are there");
    assert_eq!(upload(&desk, "/orders/import", &[]).await.status, 422);
}

#[tokio::test]
async fn a_workbook_comes_in_like_a_table() {
    let desk = open_desk().await;
    let mut workbook = rust_xlsxwriter::Workbook::new();
    let sheet = workbook.add_worksheet();
    for (column, (heading, cell)) in
        [("reference", "X-1"), ("use", "street"), ("sides", "left"), ("unit", "in"), ("left overall length", "29 1/32")]
            .iter()
            .enumerate()
    {
        let column = u16::try_from(column).unwrap();
        sheet.write(0, column, *heading).unwrap();
        sheet.write(1, column, *cell).unwrap();
    }
    let bytes = workbook.save_to_buffer().unwrap();
    let answer = upload(&desk, "/orders/import", &[("files", Some("orders.xlsx"), &bytes)]).await;
    assert!(answer.text().contains("1 can come in") && answer.text().contains("X-1"));
}

#[tokio::test]
async fn the_whole_book_goes_out_as_json() {
    let desk = open_desk().await;
    let empty: serde_json::Value = serde_json::from_slice(&desk.get("/export").await.bytes).unwrap();
    assert_eq!(empty["orders"], serde_json::json!([]));
    for name in ["01-hay-truck", "02-market-wagon"] {
        desk.place(name).await;
    }
    let answer = desk.get("/export").await;
    assert!(answer.header("content-disposition").contains("orders.json"));
    let whole: serde_json::Value = serde_json::from_slice(&answer.bytes).unwrap();
    let references: Vec<_> = whole["orders"].as_array().unwrap().iter().map(|one| one["reference"].clone()).collect();
    assert_eq!(references, ["Q-0102", "Q-0101"]);
    assert_eq!(whole["orders"][1]["revisions"][0]["sheet"], demo("01-hay-truck"));
}
