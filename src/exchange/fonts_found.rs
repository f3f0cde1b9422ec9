//! Finding the Japanese type, which is kept out of the program's own file.

use crate::paper::fonts::JAPANESE_FILES;
use crate::paper::{Japanese, PaperProblem, Shaper};
use crate::studio::Language;
use std::path::{Path, PathBuf};

/// Where the type is looked for, first things first: beside the program, in the folder `fonts` of the data folder, and
/// in `assets/fonts/japanese` of a source tree, from the folder the program was started in and from its own upwards.
pub fn usual_places(program: Option<&Path>, data: Option<&Path>, here: Option<&Path>) -> Vec<PathBuf> {
    const IN_SOURCES: &str = "assets/fonts/japanese";
    let beside = program.and_then(Path::parent);
    let mut places: Vec<PathBuf> = beside.map(Path::to_owned).into_iter().collect();
    places.extend(data.map(|data| data.join("fonts")));
    places.extend(here.map(|here| here.join(IN_SOURCES)));
    places.extend(beside.into_iter().flat_map(Path::ancestors).take(4).map(|above| above.join(IN_SOURCES)));
    places
}

/// The bytes of the Japanese type's two files from the first of the places that has both.
///
/// # Errors
/// When no place has them, with where to put them.
pub fn japanese(places: &[PathBuf]) -> Result<[Vec<u8>; 2], PaperProblem> {
    for place in places {
        let [regular, bold] = JAPANESE_FILES.map(|file| std::fs::read(place.join(file)));
        if let (Ok(regular), Ok(bold)) = (regular, bold) {
            return Ok([regular, bold]);
        }
    }
    // Those places are told that every machine has; a source tree is not one of them.
    let told: Vec<String> = places.iter().take(2).map(|place| place.display().to_string()).collect();
    Err(PaperProblem::NoJapaneseType { files: JAPANESE_FILES.join(" and "), places: told.join(" or ") })
}

/// A shaper for papers in those languages, with the Japanese type where one of them needs it.
///
/// # Errors
/// When Japanese is among them and its type is not found, with where to put it; or when a file there is not the type.
pub fn shaper(languages: &[Language]) -> Result<Shaper, PaperProblem> {
    if !languages.contains(&Language::Japanese) {
        return Ok(Shaper::new());
    }
    if let Some(at_hand) = Japanese::at_hand() {
        return Ok(Shaper::with_japanese(at_hand));
    }
    let [regular, bold] = japanese_here()?;
    Ok(Shaper::with_japanese(Japanese::hand_over(regular, bold)?))
}

fn japanese_here() -> Result<[Vec<u8>; 2], PaperProblem> {
    let program = std::env::current_exe().ok();
    let here = std::env::current_dir().ok();
    let folders = directories::ProjectDirs::from("", "", "enamelwright");
    let data = folders.as_ref().map(directories::ProjectDirs::data_dir);
    japanese(&usual_places(program.as_deref(), data, here.as_deref()))
}

/// The bytes of the Japanese type in its regular weight, for the window to show Japanese words with.
///
/// # Errors
/// When the type is not found, with where to put it.
pub fn japanese_type() -> Result<Vec<u8>, PaperProblem> {
    japanese_here().map(|[regular, _]| regular)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn where_it_is_not_found_one_is_told_where_to_put_it() {
        let empty = tempfile::tempdir().unwrap();
        let problem = japanese(&[empty.path().to_owned(), PathBuf::from("/data/fonts")]).unwrap_err().to_string();
        let wanted = format!(
            "papers in Japanese need the type M PLUS 1p, which was not found; put MPLUS1p-Regular.ttf and \
             MPLUS1p-Bold.ttf into {} or /data/fonts",
            empty.path().display()
        );
        assert_eq!(problem, wanted);
    }

    #[test]
    fn it_is_looked_for_beside_the_program_then_in_the_data_folder_then_in_a_source_tree() {
        let places = usual_places(Some(Path::new("/opt/studio/enamelwright")), Some(Path::new("/data")), None);
        assert_eq!(places[..2], [PathBuf::from("/opt/studio"), PathBuf::from("/data/fonts")]);
        assert!(places.contains(&PathBuf::from("/opt/studio/assets/fonts/japanese")));
    }
}
