//! Published values against the public functions: one loop a kind, the values and their sources in `published/`.

use crate::support::published::{cases, get, number, same};
use hubwright::design::KvConvention;
use hubwright::ratings::{bearing_life, bearing_load, motor, static_load, tooth_root_estimate};
use hubwright::tables::{
    self, BallSet, ClearanceGroup, HoleSeries, PropertyClass, ScrewStandard, Thread, screw_head,
};
use toml::{Table, Value};

fn rows(case: &Table) -> Vec<Vec<Value>> {
    case["rows"].as_array().expect("rows").iter().map(|row| row.as_array().expect("a row").clone()).collect()
}

fn thread(value: &Value) -> Thread {
    Thread::parse(value.as_str().expect("a thread")).expect("a thread of the table")
}

#[test]
fn equivalent_loads() {
    for case in cases("bearings", "equivalent_load") {
        let (radial, axial, static_rating) =
            (get(&case, "radial"), get(&case, "axial"), get(&case, "static_rating"));
        let found = bearing_load::equivalent_load(
            radial,
            axial,
            get(&case, "f0"),
            static_rating,
            ClearanceGroup::Normal,
        )
        .expect("in range");
        same(found.e, get(&case, "e"), 4, "e");
        same(found.y, get(&case, "y"), 5, "Y");
        same(found.load, get(&case, "load"), 5, "P");
        let life = bearing_life::basic_life(get(&case, "dynamic_rating"), found.load).expect("in range");
        same(life, get(&case, "life_mrev"), 4, "L10");
        let at_rest = static_load::equivalent_static_load(radial, axial);
        same(at_rest, get(&case, "static_load"), 4, "P0");
        same(static_rating / at_rest, get(&case, "static_safety"), 4, "s0");
    }
}

#[test]
fn lives() {
    for case in cases("bearings", "life") {
        let life =
            bearing_life::basic_life(get(&case, "dynamic_rating"), get(&case, "load")).expect("in range");
        assert!((life - get(&case, "life_mrev")).abs() <= get(&case, "tolerance"), "{life} for {case:?}");
    }
    for case in cases("bearings", "hours") {
        let swing = get(&case, "swing_deg").to_radians();
        let hours = bearing_life::hours(get(&case, "life_mrev"), get(&case, "rate_per_second"), Some(swing))
            .expect("turns");
        assert!((hours - get(&case, "hours")).abs() <= get(&case, "tolerance"), "{hours} for {case:?}");
    }
    for case in cases("bearings", "reliability") {
        for pair in case["values"].as_array().expect("pairs") {
            let pair = pair.as_array().expect("a pair");
            let found = bearing_life::reliability_factor(number(&pair[0])).expect("in range");
            assert!((found - number(&pair[1])).abs() <= get(&case, "tolerance"), "a1 {found} for {pair:?}");
        }
    }
}

/// ISO 281 and ISO 76 from the balls themselves: no search, so neither table can hide behind the other.
#[test]
fn ratings_from_balls() {
    for case in cases("bearings", "ball_set") {
        for row in rows(&case) {
            let balls = BallSet {
                count: number(&row[1]) as u32,
                ball: number(&row[2]),
                pitch_circle: number(&row[3]),
            };
            let dynamic = tables::dynamic_rating(&balls).expect("in the table");
            let at_rest = tables::static_rating(&balls).expect("in the table");
            let tolerance = get(&case, "tolerance");
            assert!((dynamic / number(&row[4]) - 1.0).abs() <= tolerance, "C {dynamic} for {row:?}");
            assert!((at_rest / number(&row[5]) - 1.0).abs() <= tolerance, "C0 {at_rest} for {row:?}");
        }
    }
}

/// Outside its range a rating says so and gives no number.
#[test]
fn ratings_end_at_their_range() {
    assert_eq!(bearing_life::basic_life(1000.0, 501.0), None, "P over C/2");
    assert_eq!(bearing_life::basic_life(1000.0, 0.0), None, "no load");
    assert_eq!(
        bearing_load::equivalent_load(10.0, 500.0, 14.0, 1000.0, ClearanceGroup::Normal),
        None,
        "f0 Fa / C0 over 6.89"
    );
    assert_eq!(bearing_life::hours(100.0, 1.0, Some(4.0_f64.to_radians())), None, "fretting under 5 degrees");
    assert_eq!(bearing_life::reliability_factor(0.5), None);
    assert_eq!(tooth_root_estimate::form_factor(8, 0.0), None, "fewer than 12 virtual teeth");
}

#[test]
fn axial_limits() {
    for case in cases("bearings", "axial_share") {
        for row in rows(&case) {
            let name = row[0].as_str().expect("a name");
            let bearing = tables::bearing(name).expect("a row of the table");
            assert_eq!(static_load::axial_share(bearing), number(&row[1]), "{name}");
        }
    }
}

#[test]
fn fasteners() {
    for case in cases("fasteners", "clearance_hole") {
        for row in rows(&case) {
            let hole = |series| thread(&row[0]).clearance_hole(series);
            let found = [HoleSeries::Fine, HoleSeries::Medium, HoleSeries::Coarse].map(hole);
            assert_eq!(found, [number(&row[1]), number(&row[2]), number(&row[3])], "{row:?}");
        }
    }
    for case in cases("fasteners", "stress_area") {
        for row in rows(&case) {
            same(thread(&row[0]).stress_area(), number(&row[1]), 3, "stress area");
        }
    }
    for case in cases("fasteners", "proof_load") {
        for row in rows(&case) {
            // The standard multiplies rounded areas and rounds again (8.78 mm2 x 580 MPa is printed 5100): 1 % covers both.
            for (class, printed) in
                [PropertyClass::C8_8, PropertyClass::C10_9, PropertyClass::C12_9].into_iter().zip(&row[1..])
            {
                let found = thread(&row[0]).proof_load(class);
                assert!(
                    (found / number(printed) - 1.0).abs() < 0.01,
                    "proof load {found} of {class:?} for {row:?}"
                );
            }
        }
    }
    for case in cases("fasteners", "cap_head") {
        for row in rows(&case) {
            let head = screw_head(ScrewStandard::Cap, thread(&row[0])).expect("a size");
            assert_eq!((head.height, head.hex), (number(&row[1]), number(&row[2])), "{row:?}");
        }
    }
    for case in cases("fasteners", "countersunk_head") {
        for row in rows(&case) {
            let head = screw_head(ScrewStandard::Countersunk, thread(&row[0])).expect("a size");
            assert_eq!((head.diameter_most, head.height), (number(&row[1]), number(&row[2])), "{row:?}");
        }
    }
}

#[test]
fn motor_and_tooth_constants() {
    for case in cases("fasteners", "torque_constant") {
        let found = motor::torque_constants(get(&case, "kv"), KvConvention::LinePeak);
        same(found.direct_current, get(&case, "direct_current"), 5, "supply side");
        same(found.peak_phase, get(&case, "peak_phase"), 5, "peak phase");
        // Of the same Kv: 24 V line to line at its peak, and the same voltage as r.m.s. is sqrt 2 higher at its peak.
        let speed = |kv_is| motor::no_load_speed(get(&case, "kv"), kv_is, 24.0);
        same(speed(KvConvention::LinePeak), 2400.0, 6, "no-load speed");
        same(speed(KvConvention::LineRms) * 2.0_f64.sqrt(), 2400.0, 6, "no-load speed of an r.m.s. Kv");
    }
    for case in cases("fasteners", "lewis") {
        for row in rows(&case) {
            let found = tooth_root_estimate::form_factor(number(&row[0]) as u32, 0.0).expect("in range");
            let printed = number(&row[1]);
            assert!((found / printed - 1.0).abs() <= get(&case, "tolerance"), "Y {found} for {row:?}");
        }
    }
}
