use super::change::same;
use super::layers::{fields_in, merge, value_in};
use super::{Change, KINDS, Layers, Standing, changed_text, field_of_texts, header_words, kind_at, paths_of, texts_of};

#[test]
fn every_key_of_the_shipped_files_has_its_field_and_its_words() {
    for kind in &KINDS {
        let layers = Layers::of(kind, &[]);
        assert!(layers.count() > 0, "{}", kind.words);
        let words = header_words(kind.file);
        for row in &layers.rows {
            for (key, _) in &row.fields {
                assert!(kind.fields.iter().any(|field| field.key == *key), "{} has no field `{key}`", kind.words);
                assert!(words.iter().any(|(known, words)| known == key && !words.is_empty()), "{}: {key}", kind.file);
            }
            for field in kind.fields.iter().filter(|field| !field.optional) {
                let either = kind.address == "splines" || kind.address == "instruments";
                assert!(value_in(&row.fields, field.key).is_some() || either, "{}: {}", row.name, field.key);
            }
        }
    }
}

#[test]
fn what_a_form_shows_is_what_it_gives_back() {
    for kind in &KINDS {
        for row in Layers::of(kind, &[]).rows {
            for field in kind.fields {
                let value = row.value(field.key);
                let texts = texts_of(field, value);
                let paths = paths_of(field);
                let found = |path: &str| {
                    let at = paths.iter().position(|known| known == path)?;
                    texts.get(at).map(String::as_str)
                };
                let back = field_of_texts(field, &found);
                match (value, &back) {
                    // A list of strings that the file writes as one text comes back as a list of one.
                    (Some(value), Some(back)) => {
                        assert!(same(value, back), "{} {}: {value} {back}", row.name, field.key)
                    }
                    (None, None) => {}
                    other => panic!("{} {}: {other:?}", row.name, field.key),
                }
            }
        }
    }
}

const OWN: &str = "# Ours.\n\n[[housing_end]]\nname = \"52 mm bore, 2.75 x 2.05 in\" # seldom\nweight = 0.05\nsource = \"shop: counted\"\n";

#[test]
fn a_change_keeps_comments_and_order() {
    let kind = kind_at("housing-ends").unwrap();
    let mut fields = fields_in(kind, OWN).remove(0).fields;
    merge(&mut fields, &vec![("weight".to_owned(), 0.07.into())]);
    let row = "52 mm bore, 2.75 x 2.05 in".to_owned();
    let text = changed_text(kind, OWN, &[Change::Set { row: row.clone(), fields }]).unwrap();
    assert_eq!(text, OWN.replace("0.05", "0.07"));
    let added = vec![("name".to_owned(), "new".into()), ("remove".to_owned(), true.into())];
    let text = changed_text(kind, &text, &[Change::Set { row: "new".to_owned(), fields: added }]).unwrap();
    assert_eq!(text, OWN.replace("0.05", "0.07") + "\n[[housing_end]]\nname = \"new\"\nremove = true\n");
    let text = changed_text(kind, &text, &[Change::Drop { row: "new".to_owned() }, Change::Drop { row }]).unwrap();
    assert!(!text.contains("housing_end"));
}

#[test]
fn a_row_says_where_it_stands() {
    let kind = kind_at("housing-ends").unwrap();
    let own = format!("{OWN}\n[[housing_end]]\nname = \"52 mm bore, 2.65 x 1.95 in\"\nremove = true\n");
    let layers = Layers::of(kind, &[("shop/catalog/housing_ends.toml".to_owned(), own)]);
    let standing = |name: &str| layers.row(name).unwrap().standing;
    assert_eq!(standing("52 mm bore, 2.75 x 2.05 in"), Standing::Overriding);
    assert_eq!(standing("52 mm bore, 2.65 x 1.95 in"), Standing::TakenOut);
    assert_eq!(layers.row("52 mm bore, 2.75 x 2.05 in").unwrap().source(), "shop: counted");
    assert_eq!(standing("62 mm bore, 2.90 x 2.10 in"), Standing::Shipped);
}

#[test]
fn what_is_from_memory_within_a_row_is_to_be_checked_as_well() {
    let kind = kind_at("bearings").unwrap();
    let name = "40x80x18 ball";
    let shipped = Layers::of(kind, &[]);
    let row = shipped.row(name).unwrap();
    assert!(!row.is_from_memory() && row.is_to_check());
    assert_eq!(row.parts_from_memory().collect::<Vec<_>>(), ["rating"]);
    let rating = "{ dynamic_kn = 30.7, static_kn = 17.8, f0 = 14.0, source = \"shop: the maker's sheet\" }";
    let own = format!("[[bearing]]\nname = \"{name}\"\nrating = {rating}\nsource = \"shop: counted\"\n");
    let checked = Layers::of(kind, &[("shop/catalog/bearings.toml".to_owned(), own)]);
    assert!(!checked.row(name).unwrap().is_to_check());
    assert!(shipped.rows.iter().any(|row| row.is_from_memory() && row.is_to_check()));
    assert!(shipped.rows.iter().any(|row| !row.is_to_check()));
}

#[test]
fn a_comment_belongs_to_what_it_stands_right_before() {
    let comment =
        |address: &str, name: &str| Layers::of(kind_at(address).unwrap(), &[]).row(name).unwrap().comment.clone();
    assert_eq!(comment("differentials", "open"), "");
    assert_eq!(comment("bearings", "1.532 in x 80 x 21 ball"), "Large-bore end; the journal is made 1.533 in.");
}
