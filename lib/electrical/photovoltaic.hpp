// Strings of modules: voltages cold and hot, currents, fuses.
#pragma once

#include <optional>

#include "electrical/judgement.hpp"
#include "units/quantity.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// A share of change a kelvin, -0.0028 for -0.28 %/K.
using PerKelvin = decltype(1.0 / TemperatureDifference{});
inline constexpr PerKelvin per_kelvin{1.0};

/// Cells are rated at this temperature.
inline constexpr Celsius standard_test{25.0};

/// A module's voltage at another temperature of its cells.
///     U(T) = U_stc (1 + beta (T - 25))
/// A coefficient in volts a kelvin is divided by the voltage first. The cold end takes the lowest
/// air temperature (dawn); the hot end is the cells', 25 to 35 K above the air. Valid for: -40 to
/// 85 degrees; the coefficient of the voltage meant (open circuit or maximum power). Source: IEC
/// 62548; data sheets' own definition of the coefficient.
Voltage at_cell_temperature(Voltage at_standard_test, PerKelvin coefficient, Celsius cell);

/// The factor for the cold where no coefficient is known; a value between two lines takes the
/// colder one.
/// Fails below -40 degrees.
/// Source: IEC 62548, Table 5 (cold_voltage.csv).
Result<double> cold_voltage_factor(Celsius lowest);

/// The most modules in series whose cold voltage stays within a limit; the fewest whose hot one
/// reaches it.
/// Fail when the module's voltage is not above 0.
Result<int> most_in_series(Voltage limit, Voltage cold_module);
Result<int> fewest_in_series(Voltage lowest, Voltage hot_module);

/// What the other strings drive back into one: (n - 1) Isc.
/// Source: IEC 62548, reverse current.
Current reverse_current(int strings, Current short_circuit);

/// How far two standards go. They differ: which one counts is the profile's choice.
struct StringFuseRule {
  double current;       ///< On Isc when it is asked whether fuses are needed.
  double module;        ///< On the module's largest series fuse in that question.
  double rating_above;  ///< Least rating in multiples of Isc.
  double rating_below;  ///< Most rating in multiples of Isc; infinite if only the module limits it.
};

/// Source: IEC 62548 (as a trade page prints it); IEC 60364-7-712:2017, 712.431.4, 712.433 (from
/// memory).
extern const StringFuseRule iec_62548;
extern const StringFuseRule iec_60364_7_712;

/// Whether strings in parallel may do without a fuse each. One or two may always; more are unknown
/// if the module's largest series fuse is.
Judgement safe_without_fuses(const StringFuseRule& rule, int strings,
                             std::optional<Current> short_circuit,
                             std::optional<Current> module_fuse);

/// Whether a string fuse has a rating that carries the string and protects its modules.
Judgement string_fuse_fits(const StringFuseRule& rule, std::optional<Current> rated,
                           std::optional<Current> short_circuit,
                           std::optional<Current> module_fuse);

}  // namespace linewright::electrical
