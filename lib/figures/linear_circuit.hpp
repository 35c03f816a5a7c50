// Voltages and currents of a circuit of impedances, by elimination node after node.
#pragma once

#include <complex>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include "electrical/phasor.hpp"

namespace linewright::figures {

/// An impedance between two nodes.
struct Branch {
  std::uint32_t a = 0;
  std::uint32_t b = 0;
  electrical::Impedance impedance;  ///< not zero
};

/// A circuit whose held nodes have given voltages; prepared once, solved for many currents.
/// Nodes with no way to a held one have no voltage: zero is answered, and currents there are
/// ignored.
class LinearCircuit {
 public:
  LinearCircuit(std::size_t nodes, std::vector<Branch> branches, std::vector<bool> held);

  /// The voltage of every node while these currents flow into the nodes from outside.
  /// `voltages` counts for held nodes only. Both are by node.
  std::vector<electrical::VoltagePhasor> solve(
      const std::vector<electrical::CurrentPhasor>& into,
      const std::vector<electrical::VoltagePhasor>& voltages) const;

  /// The current of a branch from `a` to `b`.
  electrical::CurrentPhasor current(std::size_t branch,
                                    const std::vector<electrical::VoltagePhasor>& voltages) const;

  const std::vector<Branch>& branches() const { return branches_; }

 private:
  using Complex = std::complex<double>;  // siemens, volts or amperes, as the line says
  using Row = std::vector<std::pair<std::uint32_t, Complex>>;
  struct Step {
    std::uint32_t node;
    Complex pivot;
    Row others;
  };
  struct Work;

  void reach_from_held();
  void eliminate(Work& work, std::uint32_t node);

  std::vector<Branch> branches_;
  std::vector<bool> held_;
  std::vector<bool> reached_;
  std::vector<Step> steps_;  ///< in the order of elimination
};

}  // namespace linewright::figures
