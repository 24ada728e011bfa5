//! Clearance left in a pressed-on bearing, by hand and against the general press fit.

use elements::bearing_clearance::{
    BearingClearanceError, ClearanceGroup, ClearanceRange, clearance_left, inner_raceway_mm, new_clearance,
};
use elements::interference_fit::{Elastic, PressFit};

/// Rows D4-09 and D4-10 take rings of 48 and 54 mm on 40 and 45 mm. The general formula of Lamé (thick cylinders, Budynas &
/// Nisbett, sections 3-14 and 3-16) gives the growth of their outside, and so the clearance that is lost.
#[test]
fn lame_the_clearance_lost_is_the_growth_of_the_ring() {
    let steel = Elastic::new(207e3, 0.3).unwrap();
    for (bore, raceway, interference) in [(40.0, 48.0, 0.023), (45.0, 54.0, 0.037)] {
        let fit = PressFit::new(0.0, bore, raceway, steel, steel).unwrap();
        let growth_um = 1000.0 * fit.outside_growth(fit.pressure(interference).unwrap());
        let new = ClearanceRange { least_um: 10.0, most_um: 30.0 };
        let left = clearance_left(new, (interference, interference), bore, raceway).unwrap();
        assert!((10.0 - left.least_um - growth_um).abs() < 1e-9, "{growth_um}");
        assert!((30.0 - left.most_um - growth_um).abs() < 1e-9, "{growth_um}");
    }
}

/// The rule for the raceway gives the ring of row D4-09 exactly and that of D4-10 (a 45 mm bore in 85 mm) within 2 %.
#[test]
fn the_rule_for_the_raceway_agrees_with_the_rings_of_the_worked_rows() {
    assert_eq!(inner_raceway_mm(40.0, 80.0), Ok(48.0));
    assert!((inner_raceway_mm(45.0, 85.0).unwrap() / 54.0 - 1.0).abs() < 0.02);
}

/// Holds the shape of the table, whose numbers are from memory: groups follow each other and overlap, and grow with the bore.
#[test]
fn the_groups_follow_each_other_at_every_bore() {
    let mut before: Option<Vec<ClearanceRange>> = None;
    for bore_mm in [15.0, 20.0, 25.0, 35.0, 45.0, 60.0, 70.0, 90.0, 110.0] {
        let groups: Vec<ClearanceRange> =
            ClearanceGroup::ALL.into_iter().map(|group| new_clearance(group, bore_mm).unwrap()).collect();
        assert!(groups.iter().all(|one| one.least_um < one.most_um));
        assert!(groups.windows(2).all(|pair| pair[0].least_um < pair[1].least_um && pair[0].most_um < pair[1].most_um));
        assert!(groups.windows(2).all(|pair| pair[1].least_um <= pair[0].most_um), "{bore_mm}: a gap between groups");
        if let Some(smaller) = before {
            assert!(smaller.iter().zip(&groups).all(|(one, next)| one.most_um <= next.most_um));
        }
        before = Some(groups);
    }
}

#[test]
fn what_has_no_clearance_is_refused_with_the_range() {
    for bore_mm in [10.0, 120.1, f64::NAN] {
        assert!(matches!(new_clearance(ClearanceGroup::Normal, bore_mm), Err(BearingClearanceError::Bore { .. })));
    }
    assert!(matches!(inner_raceway_mm(40.0, 40.0), Err(BearingClearanceError::Outside { .. })));
    let new = ClearanceRange { least_um: 5.0, most_um: 20.0 };
    for interference in [(-0.001, 0.01), (0.02, 0.01), (0.0, f64::INFINITY)] {
        let left = clearance_left(new, interference, 40.0, 48.0);
        assert!(matches!(left, Err(BearingClearanceError::Interference { .. })));
    }
    assert!(matches!(clearance_left(new, (0.0, 0.01), 40.0, 39.0), Err(BearingClearanceError::Outside { .. })));
}
