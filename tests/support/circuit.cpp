#include "support/circuit.hpp"

#include <cmath>
#include <utility>

namespace linewright::tests {
namespace {

using network::Edge;
using network::EdgeKind;
using network::no_node;

struct Resistor {
  std::size_t a;
  std::size_t b;
  double ohm;
  std::size_t element;
  bool core;    ///< passes the cores of the element it belongs to
  double sign;  ///< +1 if it runs from the first terminal to the second
};

double resistance(const Edge& edge, std::uint32_t earth) {
  const bool ground = edge.kind == EdgeKind::earth || edge.a == earth || edge.b == earth;
  return ground ? 20.0 : 0.01;
}

/// Solves G v = i by Gaussian elimination with pivoting; a node joined to nothing stays at zero.
std::vector<double> solve(std::vector<std::vector<double>> g, std::vector<double> i) {
  const std::size_t n = i.size();
  for (std::size_t k = 0; k < n; ++k) {
    std::size_t pivot = k;
    for (std::size_t r = k + 1; r < n; ++r)
      if (std::abs(g[r][k]) > std::abs(g[pivot][k])) pivot = r;
    if (std::abs(g[pivot][k]) < 1e-12) continue;
    std::swap(g[k], g[pivot]);
    std::swap(i[k], i[pivot]);
    for (std::size_t r = 0; r < n; ++r) {
      if (r == k || g[r][k] == 0.0) continue;
      const double factor = g[r][k] / g[k][k];
      for (std::size_t c = k; c < n; ++c)
        g[r][c] -= factor * g[k][c];
      i[r] -= factor * i[k];
    }
  }
  for (std::size_t k = 0; k < n; ++k)
    i[k] = std::abs(g[k][k]) < 1e-12 ? 0.0 : i[k] / g[k][k];
  return i;
}

}  // namespace

FaultCurrents fault_currents(const network::Network& network, const network::Positions& positions,
                             const network::SourcePoint& source, std::size_t load,
                             site::Conductor line) {
  const std::uint32_t from = network.node(source.element, source.terminal, line);
  const std::uint32_t home = network.neutral(source.element, source.terminal);
  const std::uint32_t at = network.node(load, 0, line);
  const std::uint32_t pe = network.node(load, 0, site::Conductor::pe);
  if (from == no_node || home == no_node || at == no_node || pe == no_node) return {};

  std::vector<Resistor> resistors;
  for (const Edge& edge : network.edges) {
    if (network::closed(edge, positions) != network::Closed::yes) continue;
    const bool core = edge.element != site::none && edge.kind != EdgeKind::bond &&
                      edge.conductor != site::Conductor::pe;
    const bool forward = network.nodes[edge.a].terminal < network.nodes[edge.b].terminal;
    resistors.push_back({edge.a, edge.b, resistance(edge, network.earth), edge.element, core,
                         forward ? 1.0 : -1.0});
  }
  const std::size_t fault = resistors.size();
  resistors.push_back({at, pe, 0.001, site::none, false, 1.0});

  // The source is a current source of 230 V / 50 mΩ beside its 50 mΩ; its neutral is the node of
  // zero volts, given a large conductance to hold it there.
  const std::size_t n = network.nodes.size();
  std::vector<std::vector<double>> g(n, std::vector<double>(n, 0.0));
  std::vector<double> i(n, 0.0);
  const auto add = [&](std::size_t a, std::size_t b, double ohm) {
    g[a][a] += 1.0 / ohm;
    g[b][b] += 1.0 / ohm;
    g[a][b] -= 1.0 / ohm;
    g[b][a] -= 1.0 / ohm;
  };
  for (const Resistor& r : resistors)
    add(r.a, r.b, r.ohm);
  add(from, home, 0.05);
  i[from] += 230.0 / 0.05;
  i[home] -= 230.0 / 0.05;
  g[home][home] += 1e6;
  const std::vector<double> v = solve(std::move(g), std::move(i));

  FaultCurrents currents;
  currents.at_fault = (v[resistors[fault].a] - v[resistors[fault].b]) / resistors[fault].ohm;
  for (const Resistor& r : resistors)
    if (r.core) currents.residual[r.element] += r.sign * (v[r.a] - v[r.b]) / r.ohm;
  return currents;
}

}  // namespace linewright::tests
