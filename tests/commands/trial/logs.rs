//! Logs: what is read, and what is said of bad ones.

use std::sync::Arc;

use hubwright::diagnostic::{SourceFile, render};
use hubwright::trial::columns::Column;
use hubwright::trial::log;

fn said(text: &str) -> String {
    match log::parse(&Arc::new(SourceFile { name: "bench.csv".into(), text: text.into() })) {
        Ok(log) => format!("{} rows", log.rows.len()),
        Err(problems) => render(&problems, false),
    }
}

#[test]
fn bad_logs() {
    insta::assert_snapshot!("empty", said(""));
    insta::assert_snapshot!("only_heads", said("test, current [A], torque [N m]\n"));
    insta::assert_snapshot!("binary", said("PK\u{3}\u{4}\0\0"));
    insta::assert_snapshot!(
        "heads",
        said("current [N m], torque, forse [g], lever [furlong], voltage [V], voltage [V]\n1,2,3,4,5,6\n")
    );
    insta::assert_snapshot!(
        "cells",
        said(
            "test, time [s], current [A], winding [degC], ambient [degC], torque [N m], force [g]\nheat,0,9,25,25,,\nheat,10,NaN,26,25,,\n\
             heat,-5,9,27,25,,\nheat,20,9,28,25,,\ntorqe,,4,,,1.2,\ntorque,,,,,1.2,\ntorque,,4,,,,800\ntorque,,inf,,,1,\ntorque,4\nheat,21,9 A,28,25,,\n"
        )
    );
}

/// Each as someone saves it: other separators, decimal commas, line ends, marks and cases.
#[test]
fn separators_and_decimal_marks() {
    let plain = "test,current [A],torque [N m]\ntorque,4.5,8\n";
    let torque = |text: &str| {
        let text = text.to_string();
        let log = log::parse(&Arc::new(SourceFile { name: "x".into(), text })).expect("sound");
        (log.rows[0].get(Column::Current), log.rows[0].torque(), log.rows[0].line)
    };
    let wanted = (Some(4.5), Some(8.0), 2);
    assert_eq!(torque(plain), wanted);
    assert_eq!(torque(&plain.replace(',', ";")), wanted);
    assert_eq!(torque(&plain.replace(',', ";").replace("4.5", "4,5")), wanted);
    assert_eq!(torque(&plain.replace(',', "\t")), wanted);
    assert_eq!(torque(&plain.replace('\n', "\r\n")), wanted);
    assert_eq!(torque(&format!("\u{feff}{plain}")), wanted);
    assert_eq!(torque(&plain.replace("test", "Test").replace("torque,", "TORQUE,")), wanted);
    assert_eq!(torque(&plain.replace('[', "(").replace(']', ")")), wanted);
    assert_eq!(torque(&plain.replace("4.5", "\"4.5\"")), wanted);
}

#[test]
fn bad_separators_and_quotes() {
    let head = "test, current [A], force [g], lever [mm]\n";
    insta::assert_snapshot!("mixed", said(&format!("{head}torque; 4; 820; 300\ntorque, 8, 1640\n")));
    insta::assert_snapshot!(
        "decimal_commas",
        said(&format!(
            "{head}torque, 4,5, 820, 300\ntorque, \"4,5\", 820, 300\ntorque, 4, \"1,640.5\", 300\n"
        ))
    );
    insta::assert_snapshot!("quote", said(&format!("{head}torque, \"4, 820, 300\ntorque, 8, 1640, 300\n")));
    insta::assert_snapshot!("no_head", said("spin,500,5.7\nspin,1000,11.4\n"));
    // A head that is wrong in part doesn't hide what is wrong below.
    insta::assert_snapshot!(
        "head_and_cells",
        said("test, current [V], torque [N m]\ntorque, 4, 1.2\ntorque, 5, x\n")
    );
    insta::assert_snapshot!(
        "still",
        said("test,time [s],current [A],ambient [degC],mount [degC]\nheat,1,9,25,25\nheat,1,9,25,26\n")
    );
}

#[test]
fn units_of_the_head_are_taken() {
    let text = "test, current [mA], force [lbf], lever [in], note\n# a remark\ntorque, 4000, 2, 10,\"mine, quoted\"\n";
    let log = log::parse(&Arc::new(SourceFile { name: "x".into(), text: text.into() })).expect("sound");
    // 2 lbf at 10 in is 20 lbf in; 1 lbf in is 0.112985 N m (NIST SP 811, appendix B.8).
    assert!((log.rows[0].torque().expect("torque") - 20.0 * 0.112_984_8).abs() < 1e-6);
    assert_eq!((log.rows[0].get(Column::Current), log.rows[0].line), (Some(4.0), 3));
}
