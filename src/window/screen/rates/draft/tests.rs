use super::*;
use crate::costing::validate::validate_channel;
use crate::measure::{Currency, TemperatureUnit};
use crate::studio::defaults;

fn metric() -> Preferences {
    Preferences::metric(Currency::USD)
}

fn fresh() -> Draft {
    Draft::of(&defaults::studio_rates(), &metric())
}

#[test]
fn a_draft_of_the_book_says_what_the_book_says() {
    for preferences in [metric(), Preferences { temperature: TemperatureUnit::Fahrenheit, ..metric() }] {
        let mut draft = Draft::of(&defaults::studio_rates(), &preferences);
        assert_eq!(draft.rates(), defaults::studio_rates());
        assert_eq!(draft.problems().count(), 0);
        // Read back from its own texts it is the same.
        let fields: Vec<Field> = draft.cells.keys().copied().collect();
        for field in fields {
            let text = draft.text(field).to_owned();
            draft.type_in(field, text, &preferences);
        }
        assert_eq!(draft.rates(), defaults::studio_rates());
    }
}

#[test]
fn a_text_that_cannot_be_read_gives_the_figure_of_the_book() {
    let mut draft = fresh();
    let wage = Field::Studio(StudioPart::Wage);
    draft.type_in(wage, "23".to_owned(), &metric());
    draft.type_in(wage, "23 mice".to_owned(), &metric());
    assert_eq!(draft.rates(), defaults::studio_rates());
    assert!(draft.problem(wage).is_some());
    assert!(draft.revert(wage, &metric()));
    assert_eq!(draft.rates(), defaults::studio_rates());
    assert!(draft.problem(wage).is_none());
}

#[test]
fn an_id_is_made_from_the_name_and_stays_once_it_is_kept() {
    let mut draft = fresh();
    let key = draft.add_channel(&metric());
    let name = Field::Channel(key, ChannelPart::Name);
    draft.type_in(name, "Craft Fair, évening".to_owned(), &metric());
    assert_eq!(draft.ids().last().unwrap().0, "craft-fair-vening");
    draft.type_in(name, "Gallery".to_owned(), &metric());
    assert_eq!(draft.ids().last().unwrap().0, "gallery-2");
    draft.type_in(name, "七宝焼".to_owned(), &metric());
    assert_eq!(draft.ids().last().unwrap().0, "channel");
    draft.settle();
    draft.type_in(name, "Market".to_owned(), &metric());
    assert_eq!(draft.ids().last().unwrap().0, "channel");
    let ids: BTreeSet<ChannelId> = draft.ids().into_iter().collect();
    assert_eq!(ids.len(), draft.channels().len());
}

#[test]
fn bands_rise_and_take_off_less_than_their_step() {
    let mut draft = fresh();
    let row = draft.channels()[0].clone();
    let field = |place: usize, part| Field::Band(row.key, row.bands[place], part);
    draft.type_in(field(1, BandPart::UpTo), "50".to_owned(), &metric());
    assert!(draft.problem(field(1, BandPart::UpTo)).unwrap().contains("more than the band before"));
    draft.type_in(field(1, BandPart::UpTo), "51".to_owned(), &metric());
    assert!(draft.problem(field(1, BandPart::UpTo)).is_none());
    draft.type_in(field(0, BandPart::Less), "1".to_owned(), &metric());
    assert!(draft.problem(field(0, BandPart::Less)).unwrap().contains("less than the step"));
    assert_eq!(draft.problems().count(), 1);
}

#[test]
fn bands_added_and_taken_away_leave_terms_that_are_accepted() {
    let mut draft = fresh();
    let key = draft.add_channel(&metric());
    for count in 1..=4 {
        draft.add_band(key, &metric());
        let channel = draft.rates().channels.pop().unwrap();
        assert_eq!(channel.price_points.len(), count);
        assert!(validate_channel(&channel).is_empty(), "{count} bands");
    }
    while let Some(band) = draft.channels().last().unwrap().bands.last().copied() {
        draft.remove_band(key, band, &metric());
        assert!(validate_channel(&draft.rates().channels.pop().unwrap()).is_empty());
    }
    assert_eq!(draft.problems().count(), 0);
}

#[test]
fn channels_move_and_go() {
    let mut draft = fresh();
    let order = |draft: &Draft| draft.ids().into_iter().map(|id| id.0).collect::<Vec<_>>();
    let first = draft.channels()[0].key;
    draft.move_channel(first, Towards::Up);
    assert_eq!(order(&draft), ["fair", "gallery", "wholesale"]);
    draft.move_channel(first, Towards::Down);
    assert_eq!(order(&draft), ["gallery", "fair", "wholesale"]);
    draft.remove_channel(first, &metric());
    assert_eq!(order(&draft), ["gallery", "wholesale"]);
    assert_eq!(draft.text(Field::Channel(first, ChannelPart::Name)), "");
}

#[test]
fn other_units_write_figures_anew_and_leave_what_cannot_be_read() {
    let mut draft = fresh();
    let wage = Field::Studio(StudioPart::Wage);
    draft.type_in(wage, "twenty".to_owned(), &metric());
    let fahrenheit = Preferences { temperature: TemperatureUnit::Fahrenheit, ..metric() };
    draft.reword(&fahrenheit);
    // 38 °C of difference are 68.4 °F.
    assert_eq!(draft.text(Field::Studio(StudioPart::SolderMargin)), "68.4");
    assert_eq!(draft.text(wage), "twenty");
    assert_eq!(draft.rates(), defaults::studio_rates());
}
