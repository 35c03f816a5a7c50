// The numbers of surge protection: where it is needed, how it is connected, which voltage it bears.
#pragma once

#include <optional>

#include "electrical/judgement.hpp"
#include "units/quantity.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// Lightning strokes to ground, a square kilometre and year.
struct FlashDensity {
  double per_km2_year = 0.0;
};

enum class PvPremises { dwelling, ground_mounted, service_building };

/// From this length of the direct-current way on, surge protection is needed.
///     Lcrit = 115 / Ng dwelling, 200 / Ng on the ground, 450 / Ng service buildings, in metres
/// Fails when the density is not above 0.
/// Source: IEC 60364-7-712:2017, 712.443 (from memory).
Result<Length> critical_length(PvPremises premises, FlashDensity density);

/// Farther apart than this, the array and the inverter need a protector each.
/// Source: CLC/TS 51643-32 as makers' pages print it.
inline constexpr Length one_protector_reaches = 10.0 * unit::metre;

/// Whether the leads of a protector are short enough, 0.5 m in all.
/// Source: IEC 60364-5-53, 534.4.8.
Judgement leads_short_enough(std::optional<Length> leads);

/// What equipment sees: the protection level and what falls along the leads, about 1 kV a metre.
/// Valid for: steep currents as tests use them; a rule of thumb.
/// Source: IEC 60364-5-53, 534.4.8 (reason given there).
Voltage effective_protection_level(Voltage protection_level, Length leads);

/// Between which conductors the protector stands, and whether the state may float.
enum class SpdConnection { line_to_neutral, line_to_earth, line_to_earth_floating };

/// The lowest continuous voltage that a protector must bear: 1.1 U0, and 1.1 times the line voltage
/// where a line may stand against earth with the full of it (IT, or an island that is not bonded).
/// Source: IEC 60364-5-53, Table 534.2 (from memory).
Voltage lowest_continuous_voltage(SpdConnection connection, Voltage line_to_neutral);

/// Whether the fuse ahead is not above the one that the protector's maker allows.
/// Source: IEC 60364-5-53, 534.4.5.
Judgement back_up_fuse_fits(std::optional<Current> ahead, std::optional<Current> allowed);

}  // namespace linewright::electrical
