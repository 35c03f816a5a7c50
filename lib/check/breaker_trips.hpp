// Whether an overcurrent device opens on an earth fault with what a source on site can give.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "check/analysed_site.hpp"
#include "units/quantity.hpp"

namespace linewright::check {

/// Least current at which a breaker of that curve is sure to open at once: 5, 10 or 20 times its
/// rated current for B, C and D. Nothing for another curve.
/// Source: IEC 60898-1 Table 7 (upper limits of instantaneous tripping).
std::optional<Current> opens_at_once(const std::string& curve, Current rated);

/// Most that a generator can drive into a fault from line to neutral, which no limit of its
/// excitation lowers: 1.5 rated currents over its subtransient reactance, the bound of
/// 3 / (x1 + x2 + x0) with x2 = x1 and x0 = 0. Fails unless the reactance is above zero.
/// Source: IEC 60909-0 4.2.1.3, 10 (symmetrical components); the bound is arithmetic.
Result<Current> most_from_generator(Current rated, double subtransient_reactance);

/// One cable of a fault loop.
struct LoopCable {
  Length length;       ///< one way, >= 0
  Area line;           ///< > 0
  Area earth;          ///< > 0
  Resistivity copper;  ///< of its material, in normal service
};

/// Resistance of the cable's line and protective conductor in series, R = rho L (1/S + 1/S_pe).
/// Fails outside the ranges beside the fields. Reactance is left out: right below 35 mm².
/// Source: IEC 60364-5-52:2009 Annex G (rho 0.0225 Ω mm²/m for copper, 0.036 for aluminium).
Result<Resistance> loop_resistance(const LoopCable& cable);

/// How an earth fault of a circuit ends that no RCD sees, fed by sources on site alone.
enum class Ending {
  trips,       ///< the overcurrent device opens in time
  shuts_down,  ///< the sources stop in time, by their makers' word
  never,       ///< neither
  undecided    ///< the file leaves out what decides it
};

struct EarthFault {
  Ending ending = Ending::undecided;
  std::size_t device = site::none;  ///< the one that opens at the least current
  Current needed{};                 ///< by that device, where known
  Current given{};                  ///< at the end of the circuit, where known
  std::optional<Time> within;       ///< the time wanted
  std::string missing;              ///< undecided: the value with its key
};

/// The end of an earth fault at the end of a circuit that no RCD guards.
EarthFault earth_fault(const AnalysedSite& site, const network::StateView& state,
                       const network::Loop& loop);

/// Whether the supply has a part in the voltage that feeds the loop.
bool supply_feeds(const AnalysedSite& site, const network::StateView& state,
                  const network::Loop& loop);

}  // namespace linewright::check
