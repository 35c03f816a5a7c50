// When a gG fuse link operates: the gates that every make keeps, and one national family of curves.
#pragma once

#include "electrical/judgement.hpp"
#include "units/quantity.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// Between which times any make of gG link operates; the most is infinite where no gate says.
/// The standard has no gate at 0.4 s: there the one of 0.1 s is what is sure.
/// Fails when the rated current is not in the table.
/// Source: IEC 60269-1, Table 3 (fuse_gg.csv).
Result<Bounds<Time>> fuse_time(Current rated, Current fault);

/// The usual clearing times of tables of loop impedance.
enum class ClearingTime { four_tenths, five_seconds };

/// The current that clears a link with BS 88-2 curves in this time. Whether they may be taken is
/// for a country's profile to say: an unknown make needs 4 to 20 % more for 5 s.
/// Fails when the table has no such line.
/// Source: BS 88-2 curves as printed in a test set's manual (fuse_gg.csv).
Result<Current> bs_88_2_current(Current rated, ClearingTime time);

}  // namespace linewright::electrical
