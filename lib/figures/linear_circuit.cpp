#include "figures/linear_circuit.hpp"

#include <algorithm>
#include <functional>
#include <queue>
#include <tuple>

namespace linewright::figures {

using electrical::CurrentPhasor;
using electrical::VoltagePhasor;

namespace {

std::complex<double> admittance(const Branch& branch) {
  return 1.0 / std::complex<double>(branch.impedance.re.si, branch.impedance.im.si);
}

}  // namespace

/// The matrix while it is taken apart: off the diagonal by row, and how many neighbours are left.
struct LinearCircuit::Work {
  using Entry = std::pair<std::size_t, std::uint32_t>;
  std::vector<Row> rows;
  std::vector<Complex> diagonal;
  std::vector<std::size_t> left;
  std::vector<bool> done;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> next;

  void add(std::uint32_t a, std::uint32_t b, Complex value) {
    for (const auto& [from, to] : {std::pair(a, b), std::pair(b, a)}) {
      const std::uint32_t wanted = to;
      const auto found = std::ranges::find(rows[from], wanted, &Row::value_type::first);
      if (found != rows[from].end()) {
        found->second += value;
      } else {
        rows[from].emplace_back(to, value);
        ++left[from];
      }
    }
  }
};

LinearCircuit::LinearCircuit(std::size_t nodes, std::vector<Branch> branches,
                             std::vector<bool> held)
    : branches_(std::move(branches)), held_(std::move(held)) {
  reached_.resize(nodes);
  reach_from_held();
  Work work{std::vector<Row>(nodes),
            std::vector<Complex>(nodes),
            std::vector<std::size_t>(nodes),
            std::vector<bool>(nodes),
            {}};
  for (const Branch& branch : branches_) {
    if (!reached_[branch.a] || branch.a == branch.b) continue;
    const Complex y = admittance(branch);
    work.diagonal[branch.a] += y;
    work.diagonal[branch.b] += y;
    if (!held_[branch.a] && !held_[branch.b]) work.add(branch.a, branch.b, -y);
  }
  for (std::uint32_t node = 0; node < nodes; ++node)
    if (reached_[node] && !held_[node]) work.next.emplace(work.left[node], node);
  // The node with the fewest neighbours goes first: a tree then never grows, whatever its size.
  while (!work.next.empty()) {
    const auto [left, node] = work.next.top();
    work.next.pop();
    if (!work.done[node] && left == work.left[node]) eliminate(work, node);
  }
}

void LinearCircuit::reach_from_held() {
  std::vector<std::vector<std::uint32_t>> neighbours(reached_.size());
  for (const Branch& branch : branches_) {
    neighbours[branch.a].push_back(branch.b);
    neighbours[branch.b].push_back(branch.a);
  }
  std::vector<std::uint32_t> open;
  for (std::uint32_t node = 0; node < reached_.size(); ++node)
    if (held_[node]) open.push_back(node);
  for (const std::uint32_t node : open)
    reached_[node] = true;
  while (!open.empty()) {
    const std::uint32_t node = open.back();
    open.pop_back();
    for (const std::uint32_t other : neighbours[node]) {
      if (reached_[other]) continue;
      reached_[other] = true;
      open.push_back(other);
    }
  }
}

void LinearCircuit::eliminate(Work& work, std::uint32_t node) {
  work.done[node] = true;
  Row others;
  for (const auto& entry : work.rows[node])
    if (!work.done[entry.first]) others.push_back(entry);
  const Complex pivot = work.diagonal[node];
  for (std::size_t j = 0; j < others.size(); ++j) {
    const auto& [a, to_a] = others[j];
    work.diagonal[a] -= to_a * to_a / pivot;
    --work.left[a];
    for (std::size_t k = j + 1; k < others.size(); ++k)
      work.add(a, others[k].first, -to_a * others[k].second / pivot);
  }
  for (const auto& entry : others)
    work.next.emplace(work.left[entry.first], entry.first);
  steps_.push_back({node, pivot, std::move(others)});
}

std::vector<VoltagePhasor> LinearCircuit::solve(const std::vector<CurrentPhasor>& into,
                                                const std::vector<VoltagePhasor>& voltages) const {
  std::vector<Complex> right(reached_.size());
  std::vector<Complex> found(reached_.size());
  for (std::size_t node = 0; node < right.size(); ++node) {
    right[node] = Complex(into[node].re.si, into[node].im.si);
    if (held_[node]) found[node] = Complex(voltages[node].re.si, voltages[node].im.si);
  }
  for (const Branch& branch : branches_) {
    if (held_[branch.a]) right[branch.b] += admittance(branch) * found[branch.a];
    if (held_[branch.b]) right[branch.a] += admittance(branch) * found[branch.b];
  }
  for (const Step& step : steps_)
    for (const auto& [other, value] : step.others)
      right[other] -= value * right[step.node] / step.pivot;
  for (auto step = steps_.rbegin(); step != steps_.rend(); ++step) {
    Complex sum = right[step->node];
    for (const auto& [other, value] : step->others)
      sum -= value * found[other];
    found[step->node] = sum / step->pivot;
  }
  std::vector<VoltagePhasor> result(found.size());
  for (std::size_t node = 0; node < found.size(); ++node)
    result[node] = {Voltage{found[node].real()}, Voltage{found[node].imag()}};
  return result;
}

CurrentPhasor LinearCircuit::current(std::size_t branch,
                                     const std::vector<VoltagePhasor>& voltages) const {
  const Branch& it = branches_[branch];
  if (!reached_[it.a]) return {};
  return (voltages[it.a] - voltages[it.b]) / it.impedance;
}

}  // namespace linewright::figures
