//! Care cards and tags in every language, read back from their PDFs with a reader that shares no code with the writer.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing, reason = "a test may stop")]

mod pdf_reader;

use enamelwright::actions::{self, Action, ActionKey, Order, perform};
use enamelwright::book::Book;
use enamelwright::measure::{Currency, Decimal, Preferences};
use enamelwright::paper::cards::{self, CardJob, CardStyle, CareModel, PaperSize};
use enamelwright::paper::language::{self, is_phrase};
use enamelwright::paper::page::{Document, Face, Item, Rect};
use enamelwright::paper::pdf::{self, Properties};
use enamelwright::paper::phrase_sample::{Sample, SampleOf, sample};
use enamelwright::paper::pinned::StudioWords;
use enamelwright::paper::preview::Outliner;
use enamelwright::paper::tags::{self, TagJob, TagModel};
use enamelwright::paper::words::CareFacts;
use enamelwright::paper::{Japanese, OwnWords, PaperProblem, Part, Shaper, Speech, Symbology, WarningKind, sheets};
use enamelwright::studio::{Language, LengthUnit, Metal};
use hayro_syntax::Pdf;
use hayro_syntax::object::Dict;
use pdf_reader::{ReadPage, read};
use std::path::Path;
use std::sync::Arc;

fn shaper() -> Shaper {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/fonts/japanese");
    let [regular, bold] =
        ["MPLUS1p-Regular.ttf", "MPLUS1p-Bold.ttf"].map(|file| std::fs::read(folder.join(file)).unwrap());
    Shaper::with_japanese(Japanese::hand_over(regular, bold).unwrap())
}

fn properties(language: Language) -> Properties {
    Properties {
        title: Speech::plain(language).phrase("paper-care-cards").into_owned(),
        author: "Tidewrack Enamels".to_owned(),
        created: chrono::NaiveDate::from_ymd_opt(2026, 3, 14).unwrap().and_hms_opt(9, 26, 53).unwrap(),
        language: language.tag().to_owned(),
    }
}

/// The longest of all cards: worn, fired often, bearing lead.
fn facts(metal: Metal) -> CareFacts {
    CareFacts { metal, firings: 11, worn: true, lead_bearing: true, for_children: false }
}

fn materials(speech: Speech<'_>) -> String {
    let metal = speech.phrase("ground-fine-silver");
    let length = speech.with("unit-centimetre", &[("number", &speech.number(Decimal::new(455, 1)))]);
    let chain = speech.with("chain-long", &[("length", &length)]);
    speech.list(&[speech.with("glass-enamel-on", &[("metal", &metal)]), chain])
}

fn card(languages: &[Language], metal: Metal) -> CareModel {
    let speeches: Vec<Speech<'_>> = languages.iter().map(|language| Speech::plain(*language)).collect();
    CareModel {
        name: "Lantern drop".to_owned(),
        code: "LN-DROP".to_owned(),
        materials_line: speeches.iter().map(|speech| materials(*speech)).collect::<Vec<_>>().join(" · "),
        texts: speeches.iter().map(|speech| speech.care_text(&facts(metal))).collect(),
        studio_name: "Tidewrack Enamels".to_owned(),
        studio_place: "Skerry Bay".to_owned(),
        words: String::new(),
        band: [62, 91, 132],
    }
}

fn laid(model: CareModel, style: CardStyle) -> Result<Document, PaperProblem> {
    let job = CardJob { cards: vec![(model, 1)], style, paper: PaperSize::A4 };
    cards::layout(&job, &mut shaper())
}

/// All text of a page without its line ends: Japanese is parted anywhere, other languages at spaces.
fn all_text(page: &ReadPage) -> String {
    page.texts.iter().map(|(text, _)| text.replace(char::is_whitespace, "")).collect()
}

fn squeezed(text: &str) -> String {
    text.replace(char::is_whitespace, "")
}

/// Every line of text, and all ink of it, lies in its card.
fn check_inside(document: &Document) {
    let mut outliner = Outliner::new();
    for page in &document.pages {
        for place in &page.places {
            for item in &page.items[place.items.clone()] {
                let Item::Text(run) = item else { continue };
                let line = Rect { x_mm: run.x_mm, y_mm: run.y_mm, width_mm: run.width_mm, height_mm: 0.0 };
                assert!(place.rect.holds(&line), "{} leaves its place", run.text());
                let mark = outliner.mark(item);
                assert!(!mark.path.is_empty(), "{} has outlines", run.text());
                assert!(place.rect.holds(&mark.bounds().unwrap()), "ink of {} leaves its place", run.text());
            }
        }
    }
}

fn no_words_lost(document: &Document) {
    assert!(document.warnings.is_empty(), "{:?}", document.warnings);
}

#[test]
fn care_cards_of_every_language_read_back_as_meant() {
    for language in Language::ALL {
        for style in CardStyle::ALL {
            for metal in [Metal::Copper, Metal::FineSilver, Metal::Steel] {
                let model = card(&[language], metal);
                let document = laid(model.clone(), style).unwrap();
                no_words_lost(&document);
                check_inside(&document);
                let page = &read(&pdf::write(&document, &properties(language)).unwrap())[0];
                let said = all_text(page);
                let text = &model.texts[0];
                for sentence in std::iter::once(&text.title).chain(&text.care).chain(&text.cautions) {
                    assert!(said.contains(&squeezed(sentence)), "{}: {sentence}\n{said}", language.name());
                }
                if style == CardStyle::Folded {
                    assert!(said.contains(&squeezed(&model.materials_line)), "{}: {said}", language.name());
                }
            }
        }
    }
}

#[test]
fn tags_of_every_language_read_back_as_meant() {
    let usual = sheets::usual_sheets();
    for language in Language::ALL {
        let speech = Speech::plain(language);
        let ticket = speech.money(Decimal::new(12_345, 1), Currency::from_code("EUR").unwrap());
        let tag = TagModel {
            name: "Lantern drop".to_owned(),
            code: "LN-DROP".to_owned(),
            ticket: Some(ticket.clone()),
            materials_line: materials(speech),
            note_line: Some(speech.phrase("per-pair").into_owned()),
            lead_bearing: true,
        };
        let job = TagJob { sheet: usual[0].clone(), tags: vec![(tag.clone(), 2)], start: 1, symbology: Symbology::Qr };
        let document = tags::layout(&job, &mut shaper()).unwrap();
        assert!(
            document.warnings.iter().all(|warning| !matches!(warning.kind, WarningKind::MissingGlyphs(_))),
            "{:?}",
            document.warnings
        );
        check_inside(&document);
        let said = all_text(&read(&pdf::write(&document, &properties(language)).unwrap())[0]);
        assert!(said.contains(&squeezed(&ticket)), "{said}");
        let cut = document.warnings.iter().any(|warning| matches!(warning.kind, WarningKind::Cut(_)));
        assert!(cut || said.contains(&squeezed(&tag.materials_line)), "{}: {said}", language.name());
        assert!(!cut, "{}: {:?}", language.name(), document.warnings);
    }
}

#[test]
fn two_languages_stand_on_one_folded_card_or_are_refused() {
    for first in Language::ALL {
        for second in Language::ALL.into_iter().filter(|second| *second != first) {
            let model = card(&[first, second], Metal::FineSilver);
            match laid(model.clone(), CardStyle::Folded) {
                Ok(document) => {
                    check_inside(&document);
                    let said = all_text(&read(&pdf::write(&document, &properties(first)).unwrap())[0]);
                    let ends: Vec<usize> = model
                        .texts
                        .iter()
                        .flat_map(|text| text.care.iter().chain(&text.cautions))
                        .map(|sentence| said.find(&squeezed(sentence)).unwrap_or_else(|| panic!("{sentence}\n{said}")))
                        .collect();
                    assert!(ends.is_sorted(), "the second language stands after the first");
                }
                Err(problem) => panic!("{} and {}: {problem}", first.name(), second.name()),
            }
        }
    }
    let problem = laid(card(&[Language::German, Language::French], Metal::Copper), CardStyle::Flat).unwrap_err();
    assert!(problem.to_string().starts_with("LN-DROP: a card of this size has no room for both languages"));
}

#[test]
fn japanese_is_refused_without_its_type_and_set_in_it_with_it() {
    let job = CardJob {
        cards: vec![(card(&[Language::Japanese], Metal::Copper), 1)],
        style: CardStyle::Flat,
        paper: PaperSize::A4,
    };
    let problem = cards::layout(&job, &mut Shaper::new()).unwrap_err();
    assert!(matches!(problem, PaperProblem::NoJapaneseType { .. }), "{problem}");
    let document = cards::layout(&job, &mut shaper()).unwrap();
    let faces: Vec<Face> = document.pages[0]
        .items
        .iter()
        .filter_map(|item| if let Item::Text(run) = item { Some(run) } else { None })
        .flat_map(|run| run.glyphs.iter().map(|glyph| glyph.face))
        .collect();
    assert!(faces.contains(&Face::Japanese) && faces.contains(&Face::JapaneseBold), "title and cautions are bold");
    assert!(faces.contains(&Face::Semibold), "Latin letters are of the usual type");
    assert!(Japanese::hand_over(b"not a font".to_vec(), Vec::new()).is_err());
}

#[test]
fn the_same_card_gives_the_same_small_file_that_says_its_language() {
    for language in Language::ALL {
        let make =
            || pdf::write(&laid(card(&[language], Metal::Copper), CardStyle::Flat).unwrap(), &properties(language));
        let (first, second) = (make().unwrap(), make().unwrap());
        assert!(first == second, "{}", language.name());
        assert!(first.len() < 80_000, "{}: {} bytes", language.name(), first.len());
        let file = Pdf::new(first).unwrap();
        let catalog = file.xref().get::<Dict<'_>>(file.xref().root_id()).unwrap();
        let said = catalog.get::<hayro_syntax::object::String<'_>>("Lang").unwrap();
        assert_eq!(said.as_bytes(), language.tag().as_bytes());
        let title = file.metadata().title.clone().unwrap();
        let units: Vec<u16> = title[2..].chunks(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]])).collect();
        assert_eq!(String::from_utf16(&units).unwrap(), properties(language).title);
    }
}

#[test]
fn her_own_words_stand_on_the_card() {
    let own = OwnWords::from([((Language::Greek, "care-title".to_owned()), "Με αγάπη".to_owned())]);
    let speech = Speech::new(Language::Greek, &own);
    let model = CareModel { texts: vec![speech.care_text(&facts(Metal::Copper))], ..card(&[], Metal::Copper) };
    let document = laid(model, CardStyle::Flat).unwrap();
    let page = &read(&pdf::write(&document, &properties(Language::Greek)).unwrap())[0];
    assert_eq!(page.texts.iter().filter(|(text, _)| text == "Με αγάπη").count(), 1);
}

fn sample_of() -> SampleOf {
    SampleOf {
        studio: Arc::new(StudioWords {
            name: "Tidewrack Enamels".to_owned(),
            place: "Skerry Bay".to_owned(),
            story: String::new(),
            care_words: String::new(),
            length: LengthUnit::Millimetre,
        }),
        preferences: Preferences::metric(Currency::from_code("EUR").unwrap()),
        name: "Lantern drop".to_owned(),
        code: "LN-DROP".to_owned(),
        today: chrono::NaiveDate::from_ymd_opt(2026, 3, 14).unwrap(),
    }
}

/// All text of a sample without its spaces.
fn said_on(sample: &Sample) -> String {
    let texts = sample.items.iter().filter_map(|item| if let Item::Text(run) = item { Some(run.text()) } else { None });
    texts.map(|text| squeezed(&text)).collect()
}

#[test]
fn every_phrase_has_a_sample_in_every_language_that_says_it() {
    let of = sample_of();
    let mut lost: Vec<String> = Vec::new();
    for language in Language::ALL {
        let speech = Speech::plain(language);
        let mut shaper = shaper();
        for phrase in language::phrases() {
            let sample = sample(phrase, speech, &of, &mut shaper).unwrap();
            let cut: Vec<_> =
                sample.warnings.iter().filter(|told| !matches!(told.kind, WarningKind::Cut(Part::Materials))).collect();
            lost.extend(cut.into_iter().map(|cut| format!("{phrase}, {}: {cut}", language.name())));
            assert!(sample.width_mm > 10.0 && sample.height_mm > 10.0 && !sample.items.is_empty(), "{phrase}");
            // What stands before and between what is filled in is read on it.
            let said = said_on(&sample);
            let mut expect = |words: &str| {
                if !said.contains(&squeezed(words)) {
                    lost.push(format!("{phrase}, {}: {words} is not in {said}", language.name()));
                }
            };
            let plain = language::program_words(language, phrase).unwrap();
            let mut rest = plain;
            while let Some((before, after)) = rest.split_once('{') {
                expect(before);
                rest = after.split_once('}').unwrap().1;
            }
            expect(rest);
        }
    }
    assert!(lost.is_empty(), "{lost:#?}");
}

#[test]
fn a_sample_shows_her_words_and_says_when_a_card_has_no_room_for_them() {
    let of = sample_of();
    let own = OwnWords::from([((Language::English, "care-worn".to_owned()), "Wear it gently.".to_owned())]);
    let shown = sample("care-worn", Speech::new(Language::English, &own), &of, &mut shaper()).unwrap();
    assert!(said_on(&shown).contains("Wearitgently."));
    // 1,000 characters do not go onto a card of 90 × 55 mm beside the others: it is shortened or refused, and told.
    let long = "gently ".repeat(140);
    let own = OwnWords::from([((Language::English, "care-worn".to_owned()), long)]);
    let told = sample("care-worn", Speech::new(Language::English, &own), &of, &mut shaper());
    assert!(told.map_or(true, |sample| !sample.warnings.is_empty()));
}

#[test]
fn the_book_keeps_only_words_a_paper_can_be_filled_with() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = Book::create(&folder.path().join("studio.studiobook")).unwrap();
    let at = chrono::NaiveDate::from_ymd_opt(2026, 3, 14).unwrap().and_hms_opt(9, 26, 53).unwrap();
    let mut save = |phrase: &str, words: Option<&str>| {
        let action = Action::SaveWords {
            language: Language::German,
            phrase: phrase.to_owned(),
            words: words.map(str::to_owned),
        };
        let done = perform(&mut book, action, Order { key: ActionKey::fresh(), at });
        done.map(|_| actions::snapshot(&book).unwrap().own_words.get(&(Language::German, phrase.to_owned())).cloned())
            .map_err(|refusal| refusal.to_string())
    };
    assert_eq!(save("fired-times", Some(" im Feuer: {times} ")), Ok(Some("im Feuer: {times}".to_owned())));
    let refused = save("fired-times", Some("im Feuer")).unwrap_err();
    assert!(refused.starts_with("Words: im Feuer was given; the words leave out {times}"), "{refused}");
    assert!(save("no-such-phrase", Some("x")).unwrap_err().contains("no phrase"));
    // Taken back by hand, or by typing the program's own.
    assert_eq!(save("fired-times", None), Ok(None));
    assert_eq!(save("care-title", Some("Pflege")), Ok(Some("Pflege".to_owned())));
    assert_eq!(save("care-title", Some("So bleibt Ihr Stück schön")), Ok(None));
}

/// Every phrase that is asked for by name in the sources is one of the tables.
#[test]
fn no_phrase_is_asked_for_that_is_not_there() {
    fn sources(folder: &Path, found: &mut Vec<String>) {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                sources(&path, found);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                found.push(std::fs::read_to_string(path).unwrap());
            }
        }
    }
    let mut found = Vec::new();
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut found);
    let mut asked = 0;
    for text in &found {
        for call in [".phrase(\"", ".with(\""] {
            for part in text.split(call).skip(1) {
                let name = part.split('"').next().unwrap();
                assert!(is_phrase(name), "{name}");
                asked += 1;
            }
        }
    }
    assert!(asked > 10, "{asked}");
}

/// Writes a card of each language to a folder, to be looked at: `PAPER_WORDS_OUT=folder cargo test … -- --ignored`.
#[test]
#[ignore = "writes files for people to look at"]
fn cards_to_look_at() {
    let Some(folder) = std::env::var_os("PAPER_WORDS_OUT") else { return };
    for language in Language::ALL {
        for style in CardStyle::ALL {
            let document = laid(card(&[language], Metal::FineSilver), style).unwrap();
            let bytes = pdf::write(&document, &properties(language)).unwrap();
            let name = format!("{}-{}.pdf", language.tag(), style.name());
            std::fs::write(Path::new(&folder).join(name), bytes).unwrap();
        }
    }
    let both = laid(card(&[Language::German, Language::French], Metal::FineSilver), CardStyle::Folded).unwrap();
    let bytes = pdf::write(&both, &properties(Language::German)).unwrap();
    std::fs::write(Path::new(&folder).join("de-fr.pdf"), bytes).unwrap();
}
