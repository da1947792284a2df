//! Robots of several joints: combinations against brute force, loads by the lever rule, bills and plates that add up, wrong
//! files.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;
use std::sync::atomic::AtomicBool;

use crate::command::hubwright;
use hubwright::bom::Kind;
use hubwright::checks::Verdict;
use hubwright::demand::GRAVITY;
use hubwright::robot::combine::{Chain, Combination, Market, Offer, Pair, combine};
use hubwright::robot::made::{MadeJoint, made};
use hubwright::robot::plates::{numbered, shops};
use hubwright::robot::shopping::{sharing, shopping};
use hubwright::robot::{self, Asked, Onlooker, Robot, Sized, tree};

// --- Combinations, on a market of numbers ---

/// Pairs with strength, mass and price; an actuator grows heavier with its load, and gives up beyond its strength.
struct Numbers {
    /// By pair: most load, mass \[kg\], price.
    pairs: BTreeMap<Pair, (f64, f64, f64)>,
    /// Own load of each joint.
    own: Vec<f64>,
    step: f64,
    /// Share of an actuator's mass and price that its floor tells; floors know nothing of strength.
    floor: f64,
    asked: usize,
}

impl Numbers {
    fn load(&self, joint: usize, hung: &[u32]) -> f64 {
        self.own[joint] + hung.iter().map(|steps| f64::from(*steps)).sum::<f64>() * self.step
    }

    fn offer(&self, joint: usize, pair: Pair, hung: &[u32]) -> Option<Offer<()>> {
        let (strength, mass, cost) = self.pairs[&pair];
        let load = self.load(joint, hung);
        (load <= strength).then_some(Offer { mass: mass + 0.02 * load, cost, good: () })
    }
}

impl Market for Numbers {
    type Good = ();

    fn pairs(&self, _: usize) -> Vec<Pair> {
        self.pairs.keys().copied().collect()
    }

    fn floor(&mut self, joint: usize, pair: Pair, hung: &[u32]) -> Option<[f64; 2]> {
        let (_, mass, cost) = self.pairs[&pair];
        Some([self.floor * (mass + 0.02 * self.load(joint, hung)), self.floor * cost])
    }

    fn offers(&mut self, joint: usize, pair: Pair, hung: &[u32]) -> Vec<Offer<()>> {
        self.asked += 1;
        self.offer(joint, pair, hung).into_iter().collect()
    }
}

/// Numbers from 0 to 1, the same on every machine (a linear congruential generator, constants of Knuth's MMIX, from memory).
struct Random(u64);

impl Random {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// Two legs of hip, knee and ankle on a body joint, or so: 1 carries 0, 2 carries 1, 3 stands apart.
fn chain() -> Chain {
    Chain {
        beyond: vec![vec![], vec![0], vec![0, 1], vec![]],
        counts: vec![2, 2, 1, 3],
        mass_step: 0.05,
        places: vec![0, 1, 2, 3],
    }
}

fn numbers(seed: u64, priced: bool) -> Numbers {
    let mut random = Random(seed);
    let mut pairs = BTreeMap::new();
    for motor in 0..3 {
        for bearing in 0..2 {
            let size = 0.4 + 0.4 * motor as f64;
            let strength = 1.2 * size + 1.6 * random.next();
            let cost = if priced { 20.0 + 60.0 * random.next() } else { 0.0 };
            pairs.insert((motor, bearing), (strength, size + 0.3 * random.next(), cost));
        }
    }
    let own = (0..4).map(|_| 0.2 + 0.5 * random.next()).collect();
    Numbers { pairs, own, step: 0.05, floor: 1.0, asked: 0 }
}

type Key = [u64; 4];

fn key<G>(one: &Combination<G>) -> Key {
    // To a tenth of a milligram: sums differ in their last digits.
    [(one.mass * 1e7).round() as u64, (one.cost * 1e4).round() as u64, one.motors as u64, one.bearings as u64]
}

/// Every assignment of pairs, and of these what no other beats.
fn brute_force(chain: &Chain, market: &Numbers) -> Vec<Key> {
    let pairs = market.pairs(0);
    let mut all: Vec<Key> = Vec::new();
    for index in 0..pairs.len().pow(4) {
        let picked: Vec<Pair> =
            (0..4).map(|joint| pairs[index / pairs.len().pow(joint) % pairs.len()]).collect();
        let mut masses = [0.0_f64; 4];
        let mut cost = 0.0;
        let holds = (0..4).all(|joint| {
            let hung: Vec<u32> = chain.beyond[joint]
                .iter()
                .map(|other| (masses[*other] / 0.05 - 1e-9).ceil() as u32)
                .collect();
            let Some(offer) = market.offer(joint, picked[joint], &hung) else { return false };
            masses[joint] = offer.mass;
            cost += f64::from(chain.counts[joint]) * offer.cost;
            true
        });
        if holds {
            let mass: f64 =
                masses.iter().zip(&chain.counts).map(|(mass, count)| mass * f64::from(*count)).sum();
            let kinds = |of: fn(&Pair) -> usize| {
                picked.iter().map(of).collect::<std::collections::BTreeSet<_>>().len() as u64
            };
            all.push([
                (mass * 1e7).round() as u64,
                (cost * 1e4).round() as u64,
                kinds(|pair| pair.0),
                kinds(|pair| pair.1),
            ]);
        }
    }
    all.sort_unstable();
    all.dedup();
    let beaten =
        |one: &Key| all.iter().any(|other| other != one && other.iter().zip(one).all(|(a, b)| a <= b));
    let mut front: Vec<Key> = all.iter().filter(|one| !beaten(one)).copied().collect();
    front.sort_unstable();
    front
}

#[test]
fn combinations_are_those_that_brute_force_finds() {
    let chain = chain();
    let (mut several, mut none) = (0, 0);
    for seed in 0..60 {
        for (priced, floor) in [(false, 1.0), (true, 1.0), (false, 0.8), (true, 0.8), (true, 0.0)] {
            let mut market = Numbers { floor, ..numbers(seed, priced) };
            let wanted = brute_force(&chain, &market);
            let mut found: Vec<Key> = combine(&chain, &mut market).front.iter().map(key).collect();
            found.sort_unstable();
            assert_eq!(found, wanted, "seed {seed}, priced {priced}, floor {floor}");
            several += usize::from(wanted.len() > 2);
            none += usize::from(wanted.is_empty());
        }
    }
    // Cases that could go wrong are among them.
    assert!(several > 50, "{several}");
    assert!(none > 0, "{none}");
}

/// The same joints in another order: the same robots, joint by joint.
#[test]
fn the_order_of_the_joints_decides_nothing() {
    for seed in 0..20 {
        let plain = combine(&chain(), &mut numbers(seed, true)).front;
        // 3, 2, 1, 0 in place of 0, 1, 2, 3.
        let turned = Chain {
            beyond: vec![vec![], vec![3, 2], vec![3], vec![]],
            counts: vec![3, 1, 2, 2],
            mass_step: 0.05,
            places: vec![3, 2, 1, 0],
        };
        let mut market = numbers(seed, true);
        market.own.reverse();
        let other = combine(&turned, &mut market).front;
        assert_eq!(plain.len(), other.len());
        for (a, b) in plain.iter().zip(&other) {
            assert_eq!((a.mass, a.cost), (b.mass, b.cost));
            assert!(a.picks.iter().eq(b.picks.iter().rev()));
        }
    }
}

/// Brute force asks for 4 x 6^4 actuators.
#[test]
fn combining_asks_for_few_actuators() {
    let asked = |floor| {
        let mut market = Numbers { floor, ..numbers(7, false) };
        combine(&chain(), &mut market);
        market.asked
    };
    let [near, far, none] = [1.0, 0.8, 0.0].map(asked);
    assert!(near < 200, "{near}");
    assert!(near < far && far < none, "{near} {far} {none}");
}

// --- A small robot ---

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn robots() -> PathBuf {
    root().join("designs/robots/small.toml")
}

const SHARED: &str = r#"
name = "crane"
motors = [{ from = "../motors/disc-86.toml" }]
gears = ["1 mm"]
output_bearings = ["6810", "6811"]
planet_bearings = ["688"]

[sharing]
mass_step = "40 g"

[requirement]
peak_time = "2 s"

[search]
ratio_least = 7.2
ratio_most = 7.6
sun_teeth_least = 12
sun_teeth_most = 12
planets_most = 4
face_least = "14 mm"
face_most = "16 mm"

[gearset]
backlash = "0.18 mm"

[controller]
bus_voltage = "24 V"
current_limit = "40 A"
mass = "30 g"
board = { length = "55 mm", width = "30 mm", height = "8 mm", underside = "4 mm", holes = { pattern = ["48 mm", "23 mm"], thread = "M2.5" } }
encoder = { bits = 14, sensor_height = "1 mm", gap = "1 mm" }

[load]
overhang = "20 mm"
oscillation = "50 deg"
rate = "0.3 Hz"

[fasteners]
service = { count = 8 }
pillars = { thread = "M4" }

[parts.all]
material = "PC"

[printer]
from = "../printers/bench.toml"

[limits]
printed_root_stress = "40 MPa"
"#;

const BOOM: &str = r#"
[[joint]]
name = "boom"
link = { mass = "0.5 kg", length = "300 mm" }
"#;
const JIB: &str = r#"
[[joint]]
name = "jib"
count = 2
on = "boom"
link = { mass = "200 g", length = "200 mm", payload = "300 g" }
"#;

fn crane() -> String {
    format!("{SHARED}{BOOM}{JIB}")
}

fn loaded(text: &str) -> Robot {
    match robot::load_text(&robots(), text) {
        Ok(Asked::Robot(robot)) => *robot,
        Ok(Asked::Joint(_)) => panic!("one joint"),
        Err(problems) => panic!("{problems:#?}"),
    }
}

fn sized(robot: &Robot) -> Sized {
    let stop = AtomicBool::new(false);
    robot::size(robot, &Onlooker { stop: &stop, tell: &|_, _| {} })
        .unwrap_or_else(|problems| panic!("{problems:#?}"))
}

struct Whole {
    robot: Robot,
    sized: Sized,
    joints: Vec<MadeJoint>,
}

/// Sized once for all tests.
fn whole() -> &'static Whole {
    static WHOLE: OnceLock<Whole> = OnceLock::new();
    WHOLE.get_or_init(|| {
        let robot = loaded(&crane());
        let sized = sized(&robot);
        let joints = made(&robot, sized.choices.first().expect("a crane")).expect("makes");
        Whole { robot, sized, joints }
    })
}

/// By hand, in kg and m: boom 0.5 x 0.15, two jibs each with its actuator at 0.3, link at 0.4, payload at 0.5.
#[test]
fn the_outer_actuators_reach_the_inner_torque_by_the_lever_rule() {
    let Whole { sized, .. } = whole();
    let picks = &sized.choices[0].picks;
    let actuator = (picks[1].offer.mass / 0.04).ceil() * 0.04;
    assert!(actuator > 0.5, "{actuator}");
    let moment = 0.5 * 0.15 + 2.0 * (actuator * 0.3 + 0.2 * 0.4 + 0.3 * 0.5);
    let inner = &picks[0].offer.good.choice.design;
    let torque = inner.requirement.peak_torque;
    // Written to four digits, rounded up.
    assert!((0.0..1e-3).contains(&(torque / (moment * GRAVITY) - 1.0)), "{torque} {moment}");
    let load = &inner.load;
    assert!((load.weight * load.arm * 1e-3 / (moment * GRAVITY) - 1.0).abs() < 2e-3);
    let alone = picks[1].offer.good.choice.design.requirement.peak_torque;
    assert!((0.0..1e-3).contains(&(alone / ((0.2 * 0.1 + 0.3 * 0.2) * GRAVITY) - 1.0)), "{alone}");
}

#[test]
fn every_joint_of_the_robot_makes_and_holds() {
    let Whole { joints, .. } = whole();
    assert_eq!(
        joints.iter().map(|joint| joint.design.as_str()).collect::<Vec<_>>(),
        ["crane-boom", "crane-jib"]
    );
    for joint in joints {
        // A print too hot to be rated would fail nothing.
        let failing: Vec<&str> = joint
            .made
            .checks
            .iter()
            .filter(|checked| {
                checked.outcome.verdict == Verdict::Fails
                    || checked.outcome.remark.to_string().contains("hotter than")
            })
            .map(|checked| checked.check.id)
            .collect();
        assert!(failing.is_empty(), "{}: {failing:?}", joint.name);
    }
}

#[test]
fn the_shopping_list_is_the_sum_of_the_bills() {
    let Whole { joints, sized, .. } = whole();
    let list = shopping(joints);
    let mut wanted: BTreeMap<(&str, String), u32> = BTreeMap::new();
    for joint in joints {
        for item in &joint.made.product.bom.items {
            let printed = item.kind == Kind::Printed;
            let designation = if printed {
                format!("{}/parts/{}", joint.design, item.designation)
            } else {
                item.designation.clone()
            };
            *wanted.entry((item.kind.as_str(), designation)).or_default() += item.quantity * joint.count;
        }
    }
    let mut found: BTreeMap<(&str, String), u32> = BTreeMap::new();
    for item in &list.items {
        *found.entry((item.kind.as_str(), item.designation.clone())).or_default() += item.quantity;
    }
    assert_eq!(found, wanted);
    let motors: Vec<_> = list.items.iter().filter(|item| item.kind == Kind::Motor).collect();
    assert_eq!(motors.iter().map(|item| item.quantity).collect::<Vec<_>>(), [3], "one line of three");
    assert_eq!(motors[0].note, "boom: 1; jib: 2 x 1");
    // The mass on the table is that of the list.
    assert!((list.total_mass() - sized.choices[0].mass).abs() < 1e-9);
    for one in sharing(joints, &list) {
        assert!(one.lines <= one.apart, "{one:?}");
        assert!(one.kind != Kind::Motor || (one.lines, one.apart) == (1, 2));
    }
}

#[test]
fn the_plates_hold_every_print_of_every_joint_once() {
    let Whole { joints, .. } = whole();
    let shops = shops(joints);
    assert_eq!(shops.len(), 1, "one printer");
    let shop = &shops[0];
    assert!(shop.too_large.is_empty());
    let wanted: u32 = joints
        .iter()
        .map(|joint| joint.count * joint.made.product.parts.iter().map(|part| part.part.count).sum::<u32>())
        .sum();
    let mut seen: Vec<(usize, u32)> = shop
        .plates
        .iter()
        .flat_map(|plate| plate.pieces.iter().map(|piece| (piece.index, piece.copy)))
        .collect();
    assert_eq!(seen.len(), wanted as usize);
    seen.sort_unstable();
    seen.dedup();
    assert_eq!(seen.len(), wanted as usize, "no print twice");
    let alone: usize = joints
        .iter()
        .map(|joint| joint.count as usize * hubwright::plates::plates(&joint.made.product).0.len())
        .sum();
    assert!(shop.plates.len() < alone, "{} plates together, {alone} joint by joint", shop.plates.len());
    // Filament of all plates is that of the printed lines of the bills.
    let mass: f64 = numbered(&shops).map(|(_, (shop, plate))| shop.totals(plate).mass).sum();
    let bills: f64 =
        joints.iter().map(|joint| f64::from(joint.count) * joint.made.product.bom.printed_mass()).sum();
    assert!((mass - bills).abs() < 1e-9, "{mass} {bills}");
}

#[test]
fn joints_in_another_order_and_threads_give_the_same_robot() {
    let other = format!("{SHARED}{JIB}{BOOM}");
    let pool = rayon::ThreadPoolBuilder::new().num_threads(1).build().expect("thread");
    let (robot, found) = pool.install(|| {
        let robot = loaded(&other);
        let found = sized(&robot);
        (robot, found)
    });
    let Whole { robot: plain_robot, sized: plain, .. } = whole();
    assert_eq!(found.choices.len(), plain.choices.len());
    for (a, b) in plain.choices.iter().zip(&found.choices) {
        let mut joints = tree::joints(&robot, &found, b);
        joints.reverse();
        assert_eq!(tree::joints(plain_robot, plain, a), joints);
    }
}

#[test]
fn a_search_to_its_end_says_so_and_a_count_says_that_it_cut() {
    let Whole { robot, sized: plain, .. } = whole();
    assert!(plain.is_complete());
    assert!(robot::text::text(robot, plain).contains("Complete: no actuator"));
    // More gearsets than are looked at at once, so that the count comes between.
    let wide = crane()
        .replace("sun_teeth_least = 12", "sun_teeth_least = 10")
        .replace("ratio_most = 7.6", "ratio_most = 8.6");
    let robot = loaded(&wide.replace("[search]\n", "[search]\nlaid_out = 1\n"));
    let short = sized(&robot);
    assert!(!short.is_complete() && short.cut > 0);
    assert!(robot::text::text(&robot, &short).contains("Not complete: counts under [search]"));
}

// --- The command ---

/// A folder with the motors, the printers and this robot in it.
fn bench(text: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("folder");
    for name in ["motors", "printers"] {
        let target = folder.path().join("designs").join(name);
        fs::create_dir_all(&target).expect("folder");
        for entry in root().join("designs").join(name).read_dir().expect("designs") {
            let path = entry.expect("entry").path();
            fs::copy(&path, target.join(path.file_name().expect("name"))).expect("copy");
        }
    }
    let robots = folder.path().join("designs/robots");
    fs::create_dir_all(&robots).expect("folder");
    fs::write(robots.join("crane.toml"), text).expect("written");
    folder
}

#[test]
fn the_folder_holds_designs_that_make_and_is_never_overwritten() {
    let folder = bench(&crane());
    let arguments = ["size", "designs/robots/crane.toml", "--write", "crane", "--json"];
    let said = hubwright(folder.path(), &arguments);
    assert_eq!(said.code, 0, "{}{}", said.out, said.err);
    let tree: serde_json::Value = serde_json::from_str(&said.out).expect("JSON");
    assert_eq!(tree["written"], "crane");
    let read = |name: &str| fs::read_to_string(folder.path().join("crane").join(name)).expect(name);
    for (index, name) in ["boom", "jib"].into_iter().enumerate() {
        let file = format!("joints/crane-{name}.toml");
        assert_eq!(tree["robots"][0]["joints"][index]["design"].as_str(), Some(read(&file).as_str()));
        let checked = hubwright(folder.path(), &["check", &format!("crane/{file}")]);
        assert_eq!(checked.code, 0, "{}{}", checked.out, checked.err);
    }
    assert!(read("shopping.csv").starts_with("item,kind,name,designation,quantity,material,unit_mass_g,"));
    let plates: Vec<String> = read("plates.csv").lines().map(str::to_string).collect();
    assert!(plates.iter().any(|line| line.contains("jib planet")), "{plates:?}");
    let count = serde_json::from_str::<serde_json::Value>(&read("robot.json")).expect("JSON")["plates"]
        .as_array()
        .expect("plates")
        .len();
    assert!(
        count > 0
            && (1..=count).all(|number| folder.path().join(format!("crane/plate-{number}.3mf")).exists())
    );
    let page = read("robot.html");
    assert!(
        page.contains("Shopping list") && !page.contains("http://") && !page.contains("https://"),
        "it needs nothing from elsewhere"
    );

    let again = hubwright(folder.path(), &arguments);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("crane is there already"), "{}", again.err);
}

/// Interrupted as soon as its hidden folder appears, which is when it begins to write.
#[cfg(unix)]
#[test]
fn interrupted_while_writing_it_leaves_nothing_or_all() {
    use std::process::{Command, Stdio};
    use std::time::{Duration, Instant};

    let folder = bench(&crane());
    let names = || -> Vec<String> {
        let entries = fs::read_dir(folder.path()).expect("folder");
        entries.map(|entry| entry.expect("entry").file_name().to_string_lossy().into_owned()).collect()
    };
    let mut child = Command::new(assert_cmd::cargo::cargo_bin!("hubwright"))
        .current_dir(folder.path())
        .args(["size", "designs/robots/crane.toml", "--write", "crane"])
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("it runs");
    let begun = Instant::now();
    while !names().iter().any(|name| name.starts_with(".hubwright-")) {
        assert!(child.try_wait().expect("waits").is_none(), "it ended before it wrote: {:?}", names());
        assert!(begun.elapsed() < Duration::from_secs(600), "it never wrote");
        std::thread::sleep(Duration::from_millis(2));
    }
    let interrupted = Command::new("kill").args(["-INT", &child.id().to_string()]).status();
    assert!(interrupted.expect("kill runs").success());
    let code = child.wait().expect("ends").code();
    let left = names();
    assert!(!left.iter().any(|name| name.starts_with(".hubwright-")), "{left:?}");
    if left.iter().any(|name| name == "crane") {
        // Too late: it is whole.
        assert_eq!(code, Some(0));
        assert!(folder.path().join("crane/robot.json").exists());
        let page = fs::read_to_string(folder.path().join("crane/robot.html")).expect("the page");
        assert!(page.trim_end().ends_with("</html>"));
    } else {
        assert_eq!(code, Some(3));
    }
}

fn refused(text: &str) -> String {
    let folder = bench(text);
    let said = hubwright(folder.path(), &["size", "designs/robots/crane.toml"]);
    assert_eq!(said.code, 2, "{}{}", said.out, said.err);
    assert!(said.out.is_empty());
    said.err
}

#[test]
fn all_that_is_wrong_in_all_joints_is_said_at_once() {
    let text = format!(
        "{SHARED}{}",
        r#"
[[joint]]
name = "boom"
count = 0
conut = 2
link = { mass = "0.5 kg", length = "300 mm", swing = "90 deg" }
requirement = { peak_torque = "1 N m", continuous_torque = "2 N m" }

[[joint]]
name = "jib"
on = "bom"
requirement = { peak_torque = "3 N m", continuous_torque = "4 N m" }

[[joint]]
name = "jib"
"#
    )
    .replace("\"6811\"", "\"6899\"")
    .replace("mass_step", "mas_step");
    let err = refused(&text);
    for wanted in [
        "from 1 to 64",
        "did you mean `count`?",
        "A swing has an angle and a time",
        "2 N m for hours, 1 N m at peak",
        "4 N m for hours, 3 N m at peak",
        "No joint is called \"bom\"",
        "did you mean \"boom\"?",
        "Two joints are called \"jib\"",
        "No bearing is called \"6899\"",
        "did you mean `mass_step`?",
    ] {
        assert!(err.contains(wanted), "{wanted}: {err}");
    }
    assert_eq!(err.matches("No bearing is called").count(), 1, "shared keys are told once: {err}");
}

#[test]
fn chains_that_cannot_be_are_refused() {
    let circle = refused(&format!(
        "{SHARED}\n[[joint]]\nname = \"a\"\non = \"c\"\n[[joint]]\nname = \"b\"\non = \"a\"\n[[joint]]\nname = \"c\"\non = \"b\"\n"
    ));
    assert!(
        circle.contains("carry each other in a circle") && circle.contains("a on c on b on a"),
        "{circle}"
    );
    assert_eq!(circle.matches("in a circle").count(), 1, "{circle}");
    let shares = refused(&format!("{SHARED}{}{JIB}", BOOM.replace("\"boom\"", "\"boom\"\ncount = 4")));
    assert!(shares.contains("equal shares"), "{shares}");
    let beyond = refused(&format!("{SHARED}{BOOM}{}", JIB.replace("count = 2", "at = \"400 mm\"")));
    assert!(beyond.contains("sits beyond the link"), "{beyond}");
    let nowhere = refused(&format!("{SHARED}{}{JIB}", BOOM.replace("\"boom\"", "\"boom\"\nat = \"100 mm\"")));
    assert!(nowhere.contains("no other carries is at no distance"), "{nowhere}");
    let twice = refused(&format!(
        "{SHARED}{}",
        BOOM.to_string() + "[joint.requirement]\nlever = { weight = \"1 kg\", length = \"300 mm\" }\n"
    ));
    assert!(twice.contains("what hangs on it twice"), "{twice}");
    assert!(refused(&format!("joint = []\n{SHARED}")).contains("No joint is in this robot"));
    let many = refused(&crane().replace("output_bearings = [\"6810\", \"6811\"]\n", ""));
    assert!(many.contains("kinds are more than are combined for a robot"), "{many}");
    assert!(refused(&format!("joint = 3\n{SHARED}")).contains("takes a list of tables"));
}

#[test]
fn a_joint_that_nothing_on_hand_does_is_named() {
    let text = crane().replace("payload = \"300 g\"", "payload = \"80 kg\"");
    let folder = bench(&text);
    let said = hubwright(folder.path(), &["size", "designs/robots/crane.toml", "--write", "crane"]);
    assert_eq!(said.code, 1, "{}{}", said.out, said.err);
    assert!(said.out.contains("jib, the lightest things hanging on it"), "{}", said.out);
    assert!(said.out.contains("requirement.peak_torque: asked"), "{}", said.out);
    assert!(!folder.path().join("crane").exists());
}

#[test]
fn the_committed_schema_is_the_declared_one_and_knows_the_demo() {
    const PATH: &str = "designs/robot.schema.json";
    let schema = robot::schema();
    if std::env::var_os("HUBWRIGHT_WRITE_SCHEMA").is_some() {
        fs::write(PATH, &schema).expect("write");
    }
    let committed = fs::read_to_string(PATH).unwrap_or_default();
    assert!(
        committed == schema,
        "{PATH} is out of date: HUBWRIGHT_WRITE_SCHEMA=1 cargo test --test commands writes it anew"
    );
    let schema: serde_json::Value = serde_json::from_str(&schema).expect("JSON");
    let demo = fs::read_to_string("designs/robots/weeder-arm.toml").expect("demo");
    let demo: toml::Table = toml::from_str(&demo).expect("TOML");
    let joint = &schema["properties"]["joint"]["items"]["properties"];
    for key in demo.keys() {
        assert!(schema["properties"].get(key).is_some(), "{key}");
    }
    for key in
        demo["joint"].as_array().expect("joints").iter().flat_map(|one| one.as_table().expect("table").keys())
    {
        assert!(joint.get(key).is_some(), "joint.{key}");
    }
}
