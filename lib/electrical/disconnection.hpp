// Automatic disconnection: how long it may take, and what the loop must be for it.
#pragma once

#include <optional>

#include "electrical/judgement.hpp"
#include "electrical/phasor.hpp"
#include "units/result.hpp"

namespace linewright::electrical {

/// How the source is earthed in the state that is looked at. A second fault of an IT system counts
/// as one or the other, as its exposed parts are earthed together or apart.
enum class FaultPath { tn, tt };
enum class CurrentKind { alternating, direct };
enum class CircuitKind { final_circuit, distribution };

struct DisconnectionCase {
  FaultPath path;
  CurrentKind current;
  Voltage to_earth;     ///< U0, > 0.
  CircuitKind circuit;  ///< Which circuits are final ones for this purpose the profile says.
};

/// The longest time until a fault to earth is disconnected; infinite where shock alone asks for
/// none (U0 of up to 50 V; direct current of up to 120 V).
/// Final circuits by Table 41.1; distribution circuits 5 s (TN) and 1 s (TT).
/// TN with direct current of 120 to 230 V: 1 s (amendment of 2017) is taken, not 5 s (2005).
/// Fails when the voltage is not above 0.
/// Source: IEC 60364-4-41:2005 and A1:2017, 411.3.2, Table 41.1.
Result<Time> disconnection_limit(const DisconnectionCase& in);

/// The highest loop impedance at which this current still flows: c U0 / Ia. IEC 60364-4-41 has no c
/// (1); BS 7671 takes 0.95.
Resistance highest_loop_impedance(double c, Voltage to_earth, Current operating);

/// Whether the loop lets the operating current flow; unknown if either is.
/// Source: IEC 60364-4-41, 411.4.4.
Judgement disconnects(double c, Voltage to_earth, std::optional<Impedance> loop,
                      std::optional<Current> operating);

/// TT: the highest resistance of electrode and protective conductor, U touch / IdN.
/// The tables of guides round up (1667 ohm for 30 mA and 50 V); here nothing is rounded.
/// Source: IEC 60364-4-41, 411.5.3.
Resistance highest_electrode_resistance(Voltage touch, Current rated_residual);

struct ConventionalLoop {
  Voltage to_earth;               ///< U0, > 0.
  Resistivity resistivity;        ///< Hot, > 0.
  Length length;                  ///< One way, > 0.
  Area line;                      ///< > 0
  double m;                       ///< Line section over that of the way back, >= 0.
  double reactance_factor = 1.0;  ///< 1 up to 120 mm2; guides raise resistance 15 to 30 % above.
};

/// The current of a loop whose supply is not known, with four fifths of the voltage left at the
/// circuit's origin:  I = 0.8 U0 S / (rho (1 + m) L).
/// Fails when an input is outside the range beside it.
/// Valid for: circuits that leave the same board as their protection, far from the generator.
/// Source: the conventional method of installation guides (French practice), not IEC 60909.
Result<Current> conventional_loop_current(const ConventionalLoop& in);

}  // namespace linewright::electrical
