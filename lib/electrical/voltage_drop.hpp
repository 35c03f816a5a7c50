// Voltage drop along a run, and rise where power comes back.
#pragma once

#include <array>

#include "electrical/phasor.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// How many conductors the current uses: there and back, or three lines that share the way.
enum class Phases { one, three };

struct VoltageDropInput {
  Resistivity resistivity;        ///< At conductor temperature in normal service, > 0.
  Length length;                  ///< One way, not there and back, >= 0.
  Area cross_section;             ///< Of one line conductor, > 0.
  ResistancePerLength reactance;  ///< Of one line conductor, >= 0.
  double cos_phi;                 ///< 0..1, lagging.
  Current current;                ///< Of one line, >= 0.
  Phases phases = Phases::three;
};

/// Voltage drop, line to neutral, from the supply end of a run to its load end.
///     u = b (rho L / S cos(phi) + lambda L sin(phi)) I     b = 2 single phase, 1 three phase
/// Fails when an input is outside the range beside it.
/// Valid for: steady state, balanced phases, one kind of cable along the whole run.
/// Source: IEC 60364-5-52:2009, Annex G (from memory).
Result<Voltage> voltage_drop(const VoltageDropInput& in);

/// What a run puts in the way of the lines and of the neutral, and the currents towards the load.
struct RunLoad {
  Impedance line;
  Impedance neutral;
  std::array<CurrentPhasor, 3> currents;  ///< L1 L2 L3; zero where nothing is loaded.
};

/// Line to neutral, by which each phase is lower at the load end, and the neutral's own share.
struct RunDrops {
  std::array<VoltagePhasor, 3> line;
  VoltagePhasor neutral;
};

/// Drops of an unbalanced circuit; currents that flow back (a source at the far end) raise.
///     dU_k = Z I_k + Z_N (I_1 + I_2 + I_3)
/// Valid for: no coupling between the phases beyond the reactance given, N not joined to PE on the
/// way.
/// Source: Kirchhoff's voltage law around the loop of one phase.
RunDrops unbalanced_drops(const RunLoad& run);

/// The share by which the size falls on the way: 0.03 for 3 % drop, negative for a rise.
double relative_drop(VoltagePhasor sending, VoltagePhasor receiving);

/// Who feeds the installation, for the limit of the drop.
enum class SupplyKind { public_network, private_supply };
enum class LoadKind { lighting, other };

/// The most that the drop should be between origin and load: 3 and 5 %, or 6 and 8 %, and 0.005 %
/// more for each metre beyond 100, at most 0.5 % more. Fails when the length is below 0. Source:
/// IEC 60364-5-52:2009, Table G.52.1 (from memory; informative there).
Result<double> drop_limit(SupplyKind supply, LoadKind load, Length length);

}  // namespace linewright::electrical
