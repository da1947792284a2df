//! Every pair of bodies of the demos, and designs broken on purpose.

mod support;

use std::time::Instant;

use hubwright::interference::{self, Interference};
use hubwright::layout::lay_out;
use hubwright::{bought, parts};
use support::{MAST, SHOULDER, WRIST, demo};

#[test]
fn look() {
    for name in [SHOULDER, WRIST, MAST, SHOULDER] {
        let actuator = lay_out(&demo(name)).expect("lays out").nominal();
        let t = Instant::now();
        let p = parts::all(&actuator).expect("parts");
        let t1 = Instant::now();
        let b = bought::all(&actuator).expect("bought");
        let t2 = Instant::now();
        let bodies = interference::body::place_all(&actuator, &p, &b).expect("bodies");
        let t3 = Instant::now();
        for body in &bodies {
            for l in 0..1 {
                let _ = l;
            }
            let t = Instant::now();
            let _ = interference::sweep::rings(&body.stack, hubwright::geometry::Point::ORIGIN);
            let d = t.elapsed();
            if d.as_micros() > 300 {
                println!("  sweep {} {:?}", body.label(), d);
            }
        }
        let t4 = Instant::now();
        let mut slow = vec![];
        for (i, a) in bodies.iter().enumerate() {
            for b in &bodies[i + 1..] {
                if a.motion == b.motion {
                    let t = Instant::now();
                    let _ = interference::still::lie(a, b, 2.0);
                    slow.push((t.elapsed(), a.label(), b.label()));
                }
            }
        }
        let sum: std::time::Duration = slow.iter().map(|s| s.0).sum();
        slow.sort();
        slow.reverse();
        println!(
            "{name}: parts {:?} bought {:?} place {:?} lie {:?} of {}",
            t1 - t,
            t2 - t1,
            t3 - t2,
            sum,
            slow.len()
        );
        for s in slow.iter().take(14) {
            println!("   {:?}", s);
        }
        let t5 = Instant::now();
        let found = Interference::among(&actuator, &bodies).expect("compares");
        println!("   among {:?} sweeps {:?}", t5.elapsed(), t4 - t3);
        for meeting in found.meetings.iter().filter(|m| m.state.is_wrong()) {
            println!("  {:?}", meeting);
        }
    }
}
