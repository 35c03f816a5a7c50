#include "figures/linear_circuit.hpp"

#include <catch2/catch.hpp>

namespace linewright::tests {
namespace {

using electrical::CurrentPhasor;
using electrical::Impedance;
using electrical::VoltagePhasor;
using figures::Branch;
using figures::LinearCircuit;
using unit::ampere;
using unit::ohm;
using unit::volt;

Impedance ohms(double r, double x = 0.0) {
  return {r * ohm, x * ohm};
}

CurrentPhasor amperes(double real, double imaginary = 0.0) {
  return {real * ampere, imaginary * ampere};
}

std::vector<VoltagePhasor> held_at(std::size_t nodes, double first) {
  std::vector<VoltagePhasor> all(nodes);
  all[0] = {first * volt, Voltage{}};
  return all;
}

}  // namespace

TEST_CASE("circuit: a load at the end of two pieces lowers the voltage by both") {
  // 230 V, 0.1 ohm and 0.2 ohm, 10 A: 229 V and 227 V.
  const LinearCircuit circuit(3, {{0, 1, ohms(0.1)}, {1, 2, ohms(0.2)}}, {true, false, false});
  const auto voltages = circuit.solve({{}, {}, -amperes(10)}, held_at(3, 230));
  CHECK(voltages[1].re.si == Approx(229));
  CHECK(voltages[2].re.si == Approx(227));
  CHECK(circuit.current(0, voltages).re.si == Approx(10));
  CHECK(circuit.current(1, voltages).re.si == Approx(10));
}

TEST_CASE("circuit: two ways side by side share a current against their impedances") {
  // 1 and 3 ohm in parallel carry 12 A: 9 A and 3 A, and the end is 9 V lower.
  const LinearCircuit circuit(2, {{0, 1, ohms(1)}, {0, 1, ohms(3)}}, {true, false});
  const auto voltages = circuit.solve({{}, -amperes(12)}, held_at(2, 100));
  CHECK(circuit.current(0, voltages).re.si == Approx(9));
  CHECK(circuit.current(1, voltages).re.si == Approx(3));
  CHECK(voltages[1].re.si == Approx(91));
}

TEST_CASE("circuit: a ring fed at one corner, and a bridge that carries nothing when balanced") {
  // Wheatstone: 1 and 2 ohm above, 2 and 4 ohm below, 5 ohm across; 6 A drawn at the far corner.
  // Both middles stand at the same voltage, the upper way carries 4 A, the lower 2 A.
  const LinearCircuit circuit(
      4, {{0, 1, ohms(1)}, {1, 3, ohms(2)}, {0, 2, ohms(2)}, {2, 3, ohms(4)}, {1, 2, ohms(5)}},
      {true, false, false, false});
  const auto voltages = circuit.solve({{}, {}, {}, -amperes(6)}, held_at(4, 50));
  CHECK(circuit.current(4, voltages).re.si == Approx(0).margin(1e-12));
  CHECK(circuit.current(0, voltages).re.si == Approx(4));
  CHECK(circuit.current(2, voltages).re.si == Approx(2));
  CHECK(voltages[3].re.si == Approx(38));
}

TEST_CASE("circuit: a reactance turns the voltage") {
  // 10 A over 3 + j4 ohm: 30 V in phase and 40 V ahead of it are lost.
  const LinearCircuit circuit(2, {{0, 1, ohms(3, 4)}}, {true, false});
  const auto voltages = circuit.solve({{}, -amperes(10)}, held_at(2, 230));
  CHECK(voltages[1].re.si == Approx(200));
  CHECK(voltages[1].im.si == Approx(-40));
}

TEST_CASE("circuit: what has no way to a held node has no voltage and no current") {
  const LinearCircuit circuit(4, {{0, 1, ohms(1)}, {2, 3, ohms(1)}}, {true, false, false, false});
  const auto voltages = circuit.solve({{}, {}, {}, -amperes(5)}, held_at(4, 10));
  CHECK(voltages[1].re.si == Approx(10));
  CHECK(voltages[3] == VoltagePhasor{});
  CHECK(circuit.current(1, voltages) == CurrentPhasor{});
}

}  // namespace linewright::tests
