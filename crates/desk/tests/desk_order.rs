//! The page of an order: the sheet as a form, the answer while one types, what is saved and what is kept.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod desk_under_test;

use axum::http::StatusCode;
use book::{Details, Direction, Person, ReviewedSheet, Role, State};
use desk_under_test::{Answer, DeskUnderTest, at, catalog, demo, desk_with_accounts, open_desk};

type Pairs = Vec<(String, String)>;

/// What a browser would send back of a page's form: every field with its value.
fn fields_of(page: &str) -> Pairs {
    let form = page.split("id=\"sheet\"").nth(1).unwrap().split("</form>").next().unwrap();
    let mut pairs = Pairs::new();
    for tag in ["<input", "<select", "<textarea"] {
        for piece in form.split(tag).skip(1) {
            let head = piece.split('>').next().unwrap();
            let Some(name) = attribute(head, "name") else { continue };
            let value = match tag {
                "<input" => attribute(head, "value").unwrap_or_default(),
                "<select" => selected(piece.split("</select>").next().unwrap()),
                _ => {
                    let inner = piece[head.len() + 1..].split("</textarea>").next().unwrap();
                    plain(inner.strip_prefix('\n').unwrap_or(inner))
                }
            };
            // Forms send their own line ends.
            pairs.push((name, value.replace('\n', "\r\n")));
        }
    }
    pairs
}

fn attribute(head: &str, name: &str) -> Option<String> {
    let rest = head.split(&format!(" {name}=\"")).nth(1)?;
    Some(plain(rest.split('"').next().unwrap()))
}

fn selected(select: &str) -> String {
    let options: Vec<&str> = select.split("<option").skip(1).collect();
    let chosen = options.iter().find(|option| option.split('>').next().unwrap().contains(" selected"));
    let option = chosen.or(options.first()).unwrap();
    let head = option.split('>').next().unwrap();
    attribute(head, "value").unwrap_or_else(|| plain(option[head.len() + 1..].split('<').next().unwrap()))
}

fn plain(text: &str) -> String {
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}

fn with(mut pairs: Pairs, name: &str, value: &str) -> Pairs {
    pairs.retain(|(known, _)| known != name);
    pairs.push((name.to_owned(), value.to_owned()));
    pairs
}

async fn send(desk: &DeskUnderTest, path: &str, pairs: &Pairs) -> Answer {
    let fields: Vec<(&str, &str)> = pairs.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    desk.post(path, &fields).await
}

/// The sheet that a live answer would save.
fn text_now(answer: &Answer) -> String {
    let page = answer.text();
    let piece = page.split("id=\"text-now\"").nth(1).unwrap_or_else(|| panic!("{page}"));
    let inner = piece.split_once('>').unwrap().1.split("</textarea>").next().unwrap();
    plain(inner.strip_prefix('\n').unwrap_or(inner))
}

fn names() -> Vec<String> {
    let folder = format!("{}/../../demo/orders", env!("CARGO_MANIFEST_DIR"));
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path().file_stem().unwrap().to_str().unwrap().to_owned())
        .collect();
    names.sort();
    names
}

#[tokio::test]
async fn a_form_that_nobody_touched_keeps_every_order_byte_for_byte() {
    let desk = open_desk().await;
    let names = names();
    assert!(names.len() > 20);
    for name in &names {
        let text = demo(name);
        // A text with the line ends of another system comes back with them as well.
        for text in [text.clone(), text.replace('\n', "\r\n").replace("Q-", "W-")] {
            let line = desk.place_sheet(&text).await;
            let page = desk.get(&format!("/orders/{}", line.number)).await;
            assert_eq!(page.status, StatusCode::OK, "{name}");
            assert!(page.bytes.len() < 150_000, "{name} has {} bytes", page.bytes.len());
            let fields = fields_of(&page.text());
            let answer = send(&desk, &format!("/orders/{}/live", line.number), &fields).await;
            assert_eq!(text_now(&answer), text, "{name}");
            let saved = send(&desk, &format!("/orders/{}", line.number), &with(fields, "reason", "none")).await;
            assert_eq!(saved.status, StatusCode::UNPROCESSABLE_ENTITY, "{name}: nothing was changed");
            if text.contains('\r') {
                break;
            }
        }
    }
}

#[tokio::test]
async fn a_changed_reading_changes_only_its_own_bytes() {
    let desk = open_desk().await;
    let text = demo("01-hay-truck");
    let line = desk.place_sheet(&text).await;
    let fields = fields_of(&desk.get("/orders/1").await.text());
    let cases = [
        ("r.left.reach.0", "26 15/16\"", "{ value = '26 7/8\"', instrument", "{ value = '26 15/16\"', instrument"),
        ("r.left.overall_length.1", "29 1/16\"", "'29 1/32\"'", "'29 1/16\"'"),
        ("r.shared.flange_thickness.0", "0.425", "\"0.421\"", "\"0.425\""),
        ("r.shared.hole_count.0", "6", "hole_count            = 5", "hole_count            = 6"),
        ("r.shared.shoulder_distance.0", "2.175; 2.181", "[\"2.175\", \"2.180\", \"2.178\"]", "[\"2.175\", \"2.181\"]"),
        (
            "r.shared.drum_inside.0.instrument",
            "steel rule",
            "'6 5/8\"'",
            "{ value = '6 5/8\"', instrument = \"steel rule\" }",
        ),
        ("r.shared.wheel_bore.0", "", "wheel_bore            = \"2.786\"\n", ""),
        ("f.order.sides", "left", "[\"left\", \"right\"]", "[\"left\"]"),
        ("f.brake.retainer", "caliper bracket", "\"plate\"", "\"caliper bracket\""),
    ];
    for (field, typed, before, after) in cases {
        assert_eq!(text.matches(before).count(), 1, "{before}");
        let answer = send(&desk, "/orders/1/live", &with(fields.clone(), field, typed)).await;
        assert_eq!(text_now(&answer), text.replace(before, after), "{field}");
    }
    let saved = send(&desk, "/orders/1", &with(fields, "r.left.reach.0", "26 15/16\"")).await;
    assert_eq!((saved.status, saved.header("location")), (StatusCode::SEE_OTHER, "/orders/1?saved=2"));
    let order = desk.book().order(line.number).await.unwrap();
    assert_eq!(order.sheet, text.replace("26 7/8", "26 15/16"));
    let revisions = desk.book().revisions(1).await.unwrap();
    assert_eq!(revisions[1].reason, "left reach 26 7/8\" becomes 26 15/16\"");
}

#[tokio::test]
async fn what_was_not_in_the_sheet_goes_into_its_section() {
    let desk = open_desk().await;
    let base = "# kept\n[order]\nreference = \"N-1\"\nuse = \"street\"\nunit = \"in\"\nsides = [\"left\"]\n";
    desk.place_sheet(base).await;
    let fields = fields_of(&desk.get("/orders/1").await.text());
    let fields = with(fields, "r.left.overall_length.0", "29 1/32");
    let fields = with(fields, "r.left.overall_length.0.instrument", "tape");
    let fields = with(fields, "f.vehicle.grip", "0.90");
    let answer = send(&desk, "/orders/1/live", &fields).await;
    let text = text_now(&answer);
    assert!(text.starts_with(base), "{text}");
    assert!(text.contains("[left]\noverall_length = { value = \"29 1/32\", instrument = \"tape\" }\n"), "{text}");
    assert!(text.contains("[vehicle]\ngrip = 0.90\n"), "{text}");
    let again =
        with(fields_of(&send(&desk, "/orders/1/review", &fields).await.text()), "r.left.overall_length.1", "29.03");
    let text = text_now(&send(&desk, "/orders/1/live", &again).await);
    assert!(text.contains("[{ value = \"29 1/32\", instrument = \"tape\" }, { value = \"29.03\" }]"), "{text}");
}

#[tokio::test]
async fn a_fault_stands_beside_its_field_and_nothing_typed_is_lost() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    let fields = fields_of(&desk.get("/orders/1").await.text());
    let fields = with(fields, "r.left.reach.0", "26 feet and a bit");
    let fields = with(fields, "r.right.half_width.0.instrument", "tape");
    let fields = with(fields, "due", "next week");
    let live = send(&desk, "/orders/1/live", &fields).await.text();
    for field in ["r.left.reach.0", "r.right.half_width.0", "due"] {
        let note = live.split(&format!("data-about=\"{field}\"")).nth(1).unwrap_or_else(|| panic!("{field}: {live}"));
        assert!(note.split("</span>").next().unwrap().contains("class=\"fault\""), "{field}");
        assert!(note.contains("Accepted: "), "{field}");
    }
    let standing = live.split("id=\"standing\"").nth(1).unwrap();
    assert!(standing.contains("no review") && standing.contains("3 faults"), "{standing}");
    // Parts that the fault leaves empty say so, so that the page keeps the older ones in sight.
    let absent = |page: &str, id: &str| {
        let head = page.split(&format!("id=\"{id}\"")).nth(1).unwrap().split('>').next().unwrap().to_owned();
        head.contains("data-absent=\"As before this fault\"")
    };
    for id in ["doubts", "found", "sizes", "conditions-of-fit", "proof", "checks"] {
        assert!(absent(&live, id), "{id}");
    }
    assert!(!absent(&live, "verdict") && !absent(&live, "standing"));
    assert!(absent(&send(&desk, "/orders/1/drawing?part=1", &fields).await.text(), "drawing"));
    assert!(absent(&send(&desk, "/orders/1/questions", &fields).await.text(), "questions"));
    let sound = fields_of(&desk.get("/orders/1").await.text());
    assert!(!send(&desk, "/orders/1/live", &sound).await.text().contains("data-absent"));
    let saved = send(&desk, "/orders/1", &fields).await;
    assert_eq!(saved.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(saved.text().contains("<noscript> Drawing, sizes and proof come back"));
    let page = fields_of(&saved.text());
    let value = |name: &str| page.iter().find(|(known, _)| known == name).map(|(_, value)| value.as_str());
    assert_eq!(value("r.left.reach.0"), Some("26 feet and a bit"));
    assert_eq!(value("r.right.half_width.0.instrument"), Some("tape"));
    assert_eq!(value("due"), Some("next week"));
    assert_eq!(desk.book().order(1).await.unwrap().line.revision, 1);
}

/// A sheet in which the left shaft was taken an inch too long.
fn doubtful() -> String {
    demo("01-hay-truck").replace("'29\"'", "'30\"'").replace("'29 1/32\"'", "'30 1/32\"'")
}

#[tokio::test]
async fn the_answer_follows_what_is_typed() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    let fields = fields_of(&desk.get("/orders/1").await.text());
    let sound = send(&desk, "/orders/1/live", &fields).await.text();
    let typed = with(with(fields, "r.left.overall_length.0", "30\""), "r.left.overall_length.1", "30 1/32\"");
    let doubted = send(&desk, "/orders/1/live", &typed).await.text();
    assert!(!sound.contains("Readings in doubt"));
    assert!(doubted.contains("Readings in doubt"));
    for id in ["verdict", "doubts", "found", "sizes", "conditions-of-fit", "proof", "checks", "suggested", "standing"] {
        assert!(doubted.contains(&format!("id=\"{id}\"")), "{id}");
    }
    let standing =
        |page: &str| page.split("id=\"standing\"").nth(1).unwrap().split("</div>").next().unwrap().to_owned();
    assert!(standing(&sound).contains("mark mark-") && standing(&sound).contains("no strong doubt"));
    assert!(standing(&doubted).contains("in doubt</a>"), "{}", standing(&doubted));
    let shown = desk.get("/orders/1").await.text();
    assert!(shown.split("class=\"saving\"").nth(1).unwrap().contains("id=\"standing\""), "it stays in sight");
    let questions = send(&desk, "/orders/1/questions", &typed).await.text();
    assert!(questions.contains("class=\"asks\"") && questions.contains("Ask the customer"), "{questions}");
    let drawn = send(&desk, "/orders/1/drawing", &typed).await.text();
    assert!(drawn.contains("class=\"draughted to-asme\"") && drawn.contains("data-dimension=\"overall_length\""));
    assert!(!drawn.contains("<style") && !drawn.contains(" style=\""));
    let plot = send(&desk, "/orders/1/drawing", &with(typed.clone(), "view", "stress")).await.text();
    assert!(plot.contains("class=\"plotted\"") || plot.contains("Nothing to plot"));
    let metric = send(&desk, "/orders/1/drawing", &with(typed, "units", "millimetre")).await.text();
    assert!(metric.contains("class=\"draughted to-iso\""));
}

#[tokio::test]
async fn a_printed_limit_is_never_wider_than_the_real_one() {
    let desk = open_desk().await;
    let mut compared = 0;
    for (at, name) in names().iter().enumerate() {
        desk.place(name).await;
        let page = desk.get(&format!("/orders/{}", at + 1)).await.text();
        let sheet = ReviewedSheet::read("sheet", &demo(name), catalog()).unwrap();
        let per_inch = if axle::leading(&sheet.sheet) == quantity::Leading::Inches { 25.4 } else { 1.0 };
        let Some(table) = page.split("<table class=\"sizes\">").nth(1) else { continue };
        let rows = table.split("</table>").next().unwrap().split("<tr data-shows=").skip(1);
        for (row, dimension) in rows.zip(&sheet.review.dimensions) {
            let limits = row.split("<td class=\"number\">").nth(1).unwrap().split(['<', ' ']).next().unwrap();
            // One size alone stands where the limits are closer than a decimal tells.
            let Some((least, most)) = limits.split_once('–') else { continue };
            let read = |text: &str| text.parse::<f64>().unwrap() * per_inch;
            assert!(read(least) > quantity::LengthExt::millimetres(&dimension.least) - 1e-6, "{name}: {limits}");
            assert!(read(most) < quantity::LengthExt::millimetres(&dimension.most) + 1e-6, "{name}: {limits}");
            compared += 1;
        }
    }
    assert!(compared > 20, "only {compared} were compared");
}

/// What the button that begins so stands for, in the card of a suspected or corrected reading.
fn stands_for(page: &str, words: &str) -> String {
    let mut buttons = page.split("formaction=\"/orders/1/accept\"").skip(1);
    let button = buttons.find(|button| button.split_once('>').unwrap().1.trim_start().starts_with(words));
    let button = button.unwrap_or_else(|| panic!("no button says {words}: {page}"));
    attribute(button.split('>').next().unwrap(), "value").unwrap()
}

/// A sheet in which the left shaft was written an inch too long, once.
fn inch_too_long() -> String {
    demo("01-hay-truck").replace(
        "overall_length = [\n  { value = '29\"', instrument = \"tape\", by = \"owner\" },\n  \
         { value = '29 1/32\"', instrument = \"steel rule\", by = \"fitter\" },\n]",
        "overall_length = { value = '30 1/32\"', instrument = \"steel rule\", by = \"fitter\" }",
    )
}

#[tokio::test]
async fn a_correction_that_nobody_confirmed_leaves_the_order_what_it_was() {
    let desk = open_desk().await;
    let text = inch_too_long();
    desk.place_sheet(&text).await;
    let before = desk.book().order(1).await.unwrap().line;
    let page = desk.get("/orders/1").await.text();
    let chosen = stands_for(&page, "Take it so, not confirmed");
    let choice: serde_json::Value = serde_json::from_str(&chosen).unwrap();
    let accepted = send(&desk, "/orders/1/accept", &with(fields_of(&page), "chosen", &chosen)).await;
    assert_eq!(accepted.header("location"), "/orders/1?saved=2", "{}", accepted.text());
    let revisions = desk.book().revisions(1).await.unwrap();
    assert_eq!(revisions[1].reason, choice["why"].as_str().unwrap());
    assert!(revisions[1].reason.ends_with(" in this way"), "the page that shows it ends the sentence");
    let told = desk.get("/orders/1/history").await.text();
    assert!(told.contains(" in this way</q>. The review said") && !told.contains(".."), "{told}");
    let name = revisions[1].who.clone();
    let taken = format!(
        "value = '30 1/32\"', instrument = \"steel rule\", by = \"fitter\" , taken_as = '29 1/32\"', taken_by = \"{name}\""
    );
    assert_eq!(
        revisions[1].sheet.replace(" ,", ","),
        text.replace("value = '30 1/32\"', instrument = \"steel rule\", by = \"fitter\"", &taken.replace(" ,", ","))
    );
    let changes = desk.book().reading_history(1).await.unwrap();
    assert!(changes.iter().any(|change| {
        change.revision == 2
            && change.was.as_deref().is_some_and(|was| was.contains("30"))
            && change
                .becomes
                .as_deref()
                .is_some_and(|became| became.contains("taken as 29 1/32\"") && became.contains("not confirmed"))
    }));
    let after = desk.book().order(1).await.unwrap().line;
    assert_eq!((after.judgement, after.fit, after.doubt), (before.judgement, before.fit, before.doubt));

    // It says where it stands, and can be confirmed or taken back; whoever undoes it has the old sheet again.
    let page = desk.get("/orders/1?saved=2").await.text();
    assert!(page.contains("Undo: back to what revision 1 said"));
    assert!(page.contains(&format!("Taken as <strong>29 1/32&quot;</strong> by {name}, not confirmed")), "{page}");
    let back = stands_for(&page, "Take back");
    let taken_back = send(&desk, "/orders/1/accept", &with(fields_of(&page), "chosen", &back)).await;
    assert_eq!(taken_back.header("location"), "/orders/1?saved=3", "{}", taken_back.text());
    assert!(!desk.book().order(1).await.unwrap().sheet.contains("taken_"));
    for before_the_first in ["1", "0", "-9223372036854775808"] {
        let refused = desk.post("/orders/1/undo", &[("seen", before_the_first)]).await;
        assert_eq!(refused.status, 422, "{before_the_first}: {}", refused.text());
        assert!(refused.text().contains("there is nothing to go back to"), "{}", refused.text());
    }
    let undone = desk.post("/orders/1/undo", &[("seen", "3")]).await;
    assert_eq!(undone.header("location"), "/orders/1?saved=4");
    let order = desk.book().order(1).await.unwrap();
    assert_eq!((order.line.revision, &order.sheet), (4, &revisions[1].sheet));
}

#[tokio::test]
async fn a_confirmed_correction_is_what_counts_and_what_was_written_stays() {
    let desk = open_desk().await;
    desk.place_sheet(&inch_too_long()).await;
    let page = desk.get("/orders/1").await.text();
    let chosen = stands_for(&page, "They confirm it: 29 1/32&quot;");
    let nobody = page.match_indices("name=\"who.").map(|(at, _)| at).collect::<Vec<_>>();
    assert!(!nobody.is_empty());
    let who = serde_json::from_str::<serde_json::Value>(&chosen).unwrap()["confirmed"].as_str().unwrap().to_owned();
    let fields = fields_of(&page);
    assert!(fields.contains(&(who.clone(), "customer".to_owned())), "the customer is who usually confirms");
    let unsaid = send(&desk, "/orders/1/accept", &with(with(fields.clone(), "chosen", &chosen), &who, " ")).await;
    assert_eq!(unsaid.status, 422);
    assert!(unsaid.text().contains("nobody is named who confirmed it"), "{}", unsaid.text());
    let confirmed = send(&desk, "/orders/1/accept", &with(fields, "chosen", &chosen)).await;
    assert_eq!(confirmed.header("location"), "/orders/1?saved=2", "{}", confirmed.text());

    let order = desk.book().order(1).await.unwrap();
    assert!(order.sheet.contains("value = '30 1/32\"'") && order.sheet.contains("confirmed_by = \"customer\""));
    let right = inch_too_long().replace("30 1/32", "29 1/32");
    let right = ReviewedSheet::read("sheet", &right, catalog()).unwrap().review;
    assert_eq!(order.line.judgement, right.verdict.into());
    assert_eq!(order.line.fit, right.fit_probability.map(|fit| fit.value));
    assert!(
        desk.book().revisions(1).await.unwrap()[1].reason.starts_with("confirmed by customer: left overall length")
    );
    let page = desk.get("/orders/1").await.text();
    assert!(page.contains("Corrected readings") && page.contains(", confirmed by customer, and weighed so."));

    // Whoever writes another value has it read, and not the correction of the one before.
    let typed = with(fields_of(&page), "r.left.overall_length.0", "29 1/16\"");
    let saved = send(&desk, "/orders/1", &typed).await;
    assert_eq!(saved.header("location"), "/orders/1?saved=3", "{}", saved.text());
    let order = desk.book().order(1).await.unwrap();
    assert!(
        order.sheet.contains("29 1/16") && !order.sheet.contains("taken_as") && !order.sheet.contains("confirmed_by")
    );
}

#[tokio::test]
async fn what_stands_unconfirmed_is_confirmed_later() {
    let desk = open_desk().await;
    desk.place_sheet(&inch_too_long()).await;
    let page = desk.get("/orders/1").await.text();
    let taken = stands_for(&page, "Take it so, not confirmed");
    send(&desk, "/orders/1/accept", &with(fields_of(&page), "chosen", &taken)).await;
    let page = desk.get("/orders/1").await.text();
    let confirm = stands_for(&page, "They confirm it: 29 1/32&quot;");
    let who = serde_json::from_str::<serde_json::Value>(&confirm).unwrap()["confirmed"].as_str().unwrap().to_owned();
    let fields = with(with(fields_of(&page), "chosen", &confirm), &who, "the fitter");
    let confirmed = send(&desk, "/orders/1/accept", &fields).await;
    assert_eq!(confirmed.header("location"), "/orders/1?saved=3", "{}", confirmed.text());
    let sheet = desk.book().order(1).await.unwrap().sheet;
    assert!(sheet.contains("taken_as = '29 1/32\"'") && sheet.contains("confirmed_by = \"the fitter\""), "{sheet}");
}

#[tokio::test]
async fn what_no_mistake_explains_is_asked_and_not_corrected() {
    let desk = open_desk().await;
    desk.place_sheet(&inch_too_long().replace("30 1/32", "33 7/64")).await;
    let page = desk.get("/orders/1").await.text();
    let card = page.split("<article class=\"doubt strong\"").nth(1).unwrap().split("</article>").next().unwrap();
    assert!(card.contains("left overall length") && card.contains("and the others make it"), "{card}");
    assert!(!card.contains("/accept") && card.contains("Ask the customer"), "{card}");
    // What is asked is read over before it is written down.
    let name = "say.doubt.";
    let field = fields_of(&page).into_iter().find(|(field, _)| field.starts_with(name)).unwrap();
    assert!(field.1.starts_with("Please take the left overall length once more. You wrote 33 7/64"), "{}", field.1);
    let typed = with(with(fields_of(&page), &field.0, "Once more, please."), "chosen", &field.0);
    let asked = send(&desk, "/orders/1/ask", &typed).await;
    assert_eq!(asked.header("location"), "/orders/1?asked=1", "{}", asked.text());
    assert_eq!(desk.book().messages(1).await.unwrap()[0].words, "Once more, please.");
}

#[tokio::test]
async fn a_question_to_the_customer_is_written_down_and_what_was_typed_is_kept() {
    let desk = open_desk().await;
    desk.place_sheet(&doubtful()).await;
    let fields = with(fields_of(&desk.get("/orders/1").await.text()), "vehicle", "the other truck");
    let question = "Please take the left overall length once more.";
    let asked = send(&desk, "/orders/1/ask", &with(fields, "chosen", question)).await;
    assert_eq!(asked.header("location"), "/orders/1?asked=1&draft=1");
    let messages = desk.book().messages(1).await.unwrap();
    assert_eq!((messages[0].direction, messages[0].words.as_str()), (Direction::ToCustomer, question));
    assert_eq!(desk.book().order(1).await.unwrap().line.state, State::Questioned);
    assert!(desk.get(asked.header("location")).await.text().contains("value=\"the other truck\""));
}

#[tokio::test]
async fn whoever_is_overtaken_sees_both_versions_and_can_carry_on() {
    let desk = open_desk().await;
    let text = demo("01-hay-truck");
    desk.place_sheet(&text).await;
    let mine = with(fields_of(&desk.get("/orders/1").await.text()), "r.left.reach.0", "26 15/16\"");
    let theirs = ReviewedSheet::read("sheet", &text.replace("\"0.421\"", "\"0.423\""), catalog()).unwrap();
    let details = desk.book().order(1).await.unwrap().line.details;
    let jory = Person::new("Wenna Tarrow", Role::Desk);
    desk.book().revise(1, 1, &theirs, &details, "taken again", &jory, at(30)).await.unwrap();
    let refused = send(&desk, "/orders/1", &mine).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    let page = refused.text();
    assert!(
        page.contains("Wenna Tarrow wrote revision 2")
            && page.contains("left reach")
            && page.contains("flange thickness")
    );
    assert_eq!(desk.book().order(1).await.unwrap().line.revision, 2);
    let carried_on = send(&desk, "/orders/1", &fields_of(&page)).await;
    assert_eq!(carried_on.header("location"), "/orders/1?saved=3", "{}", carried_on.text());
    let sheet = desk.book().order(1).await.unwrap().sheet;
    assert_eq!(sheet, text.replace("\"0.421\"", "\"0.423\"").replace("26 7/8", "26 15/16"));
}

#[tokio::test]
async fn a_draft_outlives_the_page_and_is_offered_again() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    let typed = with(fields_of(&desk.get("/orders/1").await.text()), "r.left.reach.0", "26 feet and a bit");
    assert_eq!(send(&desk, "/orders/1/draft", &typed).await.status, StatusCode::NO_CONTENT);
    let page = desk.get("/orders/1").await.text();
    assert!(
        page.contains("You typed something at <span class=\"moment\">2026-03-02 09:00 UTC")
            && !page.contains("26 feet and a bit")
    );
    let carried = desk.get("/orders/1?draft=1").await.text();
    let value = fields_of(&carried).into_iter().find(|(name, _)| name == "r.left.reach.0").unwrap().1;
    assert_eq!(value, "26 feet and a bit");
    assert_eq!(desk.post("/orders/1/draft/drop", &[]).await.status, StatusCode::SEE_OTHER);
    assert!(!desk.get("/orders/1").await.text().contains("You typed something"));
}

#[tokio::test]
async fn two_new_orders_at_once_keep_a_draft_each() {
    let desk = open_desk().await;
    let (one, other) =
        (fields_of(&desk.get("/orders/new").await.text()), fields_of(&desk.get("/orders/new").await.text()));
    let one = with(with(one, "f.order.reference", "N-1"), "r.left.overall_length.0", "29 1/32");
    let other = with(with(other, "f.order.reference", "N-2"), "customer", "Weir Dairy");
    for typed in [&one, &other] {
        assert_eq!(send(&desk, "/orders/new/draft", typed).await.status, StatusCode::NO_CONTENT);
    }
    let page = desk.get("/orders/new").await.text();
    assert!(page.contains("2 new orders were begun"), "{page}");
    assert!(page.contains("reference N-1, 1 reading. ") && page.contains("reference N-2, Weir Dairy. "), "{page}");

    // The first is taken in, and the second is still there, whole and alone.
    assert_eq!(send(&desk, "/orders/new", &with(one, "f.order.use", "street")).await.status, StatusCode::SEE_OTHER);
    let page = desk.get("/orders/new").await.text();
    let address = page.split("/orders/new?draft=1&amp;of=").nth(1).unwrap().split('"').next().unwrap();
    assert!(!page.contains("reference N-1") && page.contains("reference N-2"));
    let carried = fields_of(&desk.get(&format!("/orders/new?draft=1&of={address}")).await.text());
    let value = |name: &str| carried.iter().find(|(known, _)| known == name).unwrap().1.as_str();
    assert_eq!((value("f.order.reference"), value("customer")), ("N-2", "Weir Dairy"));
    assert_eq!(value("r.left.overall_length.0"), "", "nothing of the other order");
    // Once it goes on here, it is offered from here alone.
    send(&desk, "/orders/new/draft", &with(carried, "vehicle", "milk float")).await;
    let page = desk.get("/orders/new").await.text();
    assert!(page.contains("A new order was begun") && page.contains("N-2, Weir Dairy, milk float. "), "{page}");
    // What the first page types meanwhile is not lost for that.
    send(&desk, "/orders/new/draft", &with(other, "vehicle", "ferry")).await;
    let page = desk.get("/orders/new").await.text();
    assert!(page.contains("milk float. ") && page.contains("N-2, Weir Dairy, ferry. "), "{page}");
}

#[tokio::test]
async fn a_form_and_a_text_that_disagree_are_both_shown() {
    let desk = open_desk().await;
    let text = demo("01-hay-truck");
    desk.place_sheet(&text).await;
    let fields = fields_of(&desk.get("/orders/1").await.text());
    let typed = with(fields, "r.left.reach.0", "26 15/16\"");
    let both = with(typed.clone(), "text", &text.replace("26 7/8", "26 13/16"));
    let refused = send(&desk, "/orders/1", &both).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    let page = plain(&refused.text());
    assert!(page.contains("the form says `26 15/16\"` here and the sheet as text says `26 13/16\"`"), "{page}");
    assert_eq!(desk.book().order(1).await.unwrap().line.revision, 1, "nothing is written");
    // Sent once more as it stands, it is refused once more: neither value wins by patience.
    let again = fields_of(&refused.text());
    assert_eq!(send(&desk, "/orders/1", &again).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(plain(&send(&desk, "/orders/1/live", &both).await.text()).contains("the sheet as text says"));
    // A draft keeps both as well.
    send(&desk, "/orders/1/draft", &both).await;
    assert!(plain(&desk.get("/orders/1?draft=1").await.text()).contains("the sheet as text says `26 13/16\"`"));
    // Where they agree, or only one of them was changed, there is nothing to ask.
    let settled = with(again, "r.left.reach.0", "26 13/16\"");
    assert_eq!(send(&desk, "/orders/1", &settled).await.header("location"), "/orders/1?saved=2");
    assert_eq!(desk.book().order(1).await.unwrap().sheet, text.replace("26 7/8", "26 13/16"));
}

#[tokio::test]
async fn a_new_order_is_reviewed_before_it_has_a_name_and_taken_in_once_it_has_one() {
    let desk = open_desk().await;
    let page = desk.get("/orders/new").await;
    assert!(page.bytes.len() < 150_000, "{}", page.bytes.len());
    let fields = fields_of(&page.text());
    let typed = with(with(fields, "f.order.use", "street"), "r.left.overall_length.0", "29 1/32");
    let live = send(&desk, "/orders/new/live", &typed).await.text();
    assert!(live.contains("class=\"mark mark-ask\"") && live.contains("Still needed"), "{live}");
    assert_eq!(send(&desk, "/orders/new", &typed).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    let placed = send(&desk, "/orders/new", &with(typed, "f.order.reference", "N-77")).await;
    assert_eq!(placed.header("location"), "/orders/1?saved=1", "{}", placed.text());
    assert_eq!(desk.book().order(1).await.unwrap().line.reference, "N-77");

    let pasted = with(fields_of(&desk.get("/orders/new").await.text()), "text", &demo("02-market-wagon"));
    let shown = send(&desk, "/orders/new/review", &pasted).await.text();
    let placed = send(&desk, "/orders/new", &fields_of(&shown)).await;
    assert_eq!(placed.header("location"), "/orders/2?saved=1", "{}", placed.text());
    assert_eq!(desk.book().order(2).await.unwrap().sheet, demo("02-market-wagon"));
}

#[tokio::test]
async fn hostile_words_stay_words() {
    let desk = open_desk().await;
    let evil = "</textarea><script>alert(1)</script>\\\"'<b onmouseover=x>";
    let text = format!(
        "# {}\n[order]\nreference = \"E-1\"\nuse = \"street\"\nunit = \"in\"\nsides = [\"left\"]\nnote = '''{}'''\n",
        "<script>alert(2)</script>", "</textarea><script>alert(1)</script><b onmouseover=x>"
    );
    let details = Details { customer: evil.to_owned(), contact: evil.to_owned(), vehicle: evil.to_owned(), due: None };
    let reviewed = ReviewedSheet::read("sheet", &text, catalog()).unwrap();
    desk.book().place(&reviewed, &details, &Person::new(evil, Role::Desk), at(1)).await.unwrap();
    let page = desk.get("/orders/1").await.text();
    let typed = with(fields_of(&page), "r.left.reach.0", evil);
    let typed = with(typed, "text", &format!("{text}\nx = \"{evil}"));
    for page in
        [page, send(&desk, "/orders/1/live", &typed).await.text(), send(&desk, "/orders/1", &typed).await.text()]
    {
        assert!(!page.contains("<script>alert") && !page.contains("<b onmouseover"), "{page}");
    }
}

#[tokio::test]
async fn who_may_only_read_sees_it_and_changes_nothing() {
    let desk = desk_with_accounts().await;
    desk.place("01-hay-truck").await;
    for role in [Role::ReadOnly, Role::Floor] {
        let session = desk.sign_in(role).await;
        let page = desk.get_as(Some(&session), "/orders/1").await;
        assert_eq!(page.status, StatusCode::OK);
        let page = page.text();
        assert!(page.contains("<fieldset class=\"plain\" disabled>") && !page.contains("Save revision"));
        for path in ["", "/accept", "/undo", "/ask", "/draft", "/draft/drop"] {
            let answer = desk.post_as(Some(&session), &format!("/orders/1{path}"), &[("seen", "1")]).await;
            assert_eq!(answer.status, StatusCode::FORBIDDEN, "{path}");
        }
    }
    assert_eq!(desk.book().order(1).await.unwrap().line.revision, 1);
}

#[tokio::test]
async fn two_people_on_one_order_see_each_other() {
    let desk = desk_with_accounts().await;
    desk.place("01-hay-truck").await;
    let (wenna, kerra) = (desk.sign_in(Role::Desk).await, desk.sign_in(Role::ReadOnly).await);
    let alone = desk.post_as(Some(&wenna), "/orders/1/presence", &[("seen", "1")]).await.text();
    assert!(!alone.contains("open too"));
    let second = desk.post_as(Some(&kerra), "/orders/1/presence", &[("seen", "0")]).await.text();
    assert!(second.contains("Wenna Tarrow has this order open too"), "{second}");
    assert!(second.contains("Revision 1 was written by Wenna Tarrow"), "{second}");
}

#[test]
fn the_styles_of_the_figures_are_those_that_the_drawings_ask_for() {
    assert_eq!(include_str!("../assets/drawing.css"), drawing::figure_styles());
}
