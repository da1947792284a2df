//! What can hurt, in one wording for every page and sheet.

/// Of the first run.
pub const FIRST: &str = "Current-limited supply first, output free; the battery only after.";
pub const CLAMP: &str = "Clamp the actuator; stand out of the lever's plane; wear eye protection.";
pub const PINCH: &str = "Pinch points and a spinning rotor: fingers and sleeves away.";
pub const HOT: &str = "Windings and mount stay hot, and plastic softens without looking it.";
/// Of printing and assembling.
pub const TOOLS: &str = "The nozzle, the bed and an insert's tool burn long after they look cold.";
pub const MAGNETS: &str =
    "Rotor and stator pull together hard and pinch. Keep steel chips and pacemakers away.";
pub const LITHIUM: &str = "Lithium packs: fused, charged attended.";
pub const BRAKING: &str = "A braking motor returns energy to the supply: watch its voltage.";
pub const FALLS: &str =
    "Unpowered, the joint back-drives and its load falls: it is not a brake, and not for lifting people.";
pub const ESTIMATE: &str = "Estimates, not a certificate: local codes and licensed practice decide.";

/// Of the bench: before anything is switched on.
pub const BENCH: [&str; 7] = [FIRST, CLAMP, PINCH, HOT, BRAKING, FALLS, ESTIMATE];

/// All, by what they are about.
pub const CHAPTERS: [(&str, &[&str]); 6] = [
    ("First run", &[FIRST, CLAMP, PINCH]),
    ("Heat", &[HOT, TOOLS]),
    ("Magnets", &[MAGNETS]),
    ("Battery", &[LITHIUM, BRAKING]),
    ("Falling load", &[FALLS]),
    ("What this is", &[ESTIMATE]),
];

#[cfg(test)]
mod tests {
    use super::CHAPTERS;

    #[test]
    fn the_readme_says_them_all_in_these_words() {
        let readme: Vec<&str> = include_str!("../README.md").split_whitespace().collect();
        let readme = readme.join(" ");
        for caution in CHAPTERS.iter().flat_map(|(_, cautions)| cautions.iter()) {
            assert!(readme.contains(caution), "{caution}");
        }
    }
}
