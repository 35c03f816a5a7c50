#include "figures/flow.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <unordered_map>

#include <fmt/core.h>

#include "electrical/demand.hpp"
#include "figures/cable_data.hpp"
#include "figures/linear_circuit.hpp"
#include "figures/load_demand.hpp"

namespace linewright::figures {
namespace {

using electrical::CurrentPhasor;
using electrical::Impedance;
using electrical::VoltagePhasor;
using network::no_node;
using site::Conductor;

constexpr std::array<Conductor, 3> line_conductors{Conductor::l1, Conductor::l2, Conductor::l3};
constexpr Impedance contact{1e-6 * unit::ohm, Resistance{}};
/// Stands in for a cable of unknown length or size: what depends on it is not known anyway.
constexpr Impedance unknown_cable{1e-3 * unit::ohm, Resistance{}};
constexpr double least_change = 1e-8;  // amperes, and volts for an ampere more

struct Injection {
  std::uint32_t node;
  CurrentPhasor current;
};

/// Something that the file does not say, with a change of it as currents from outside.
struct Unknown {
  Missing missing;
  std::vector<Injection> change;
  std::size_t run = site::none;  ///< a cable whose impedance is not known
};

class Solver {
 public:
  Solver(const site::Site& site, const network::Network& network, const network::StateView& view,
         Case what)
      : site_(site), network_(network), view_(view), case_(what) {}

  Flow run() {
    if (!hold_sources()) return std::move(flow_);
    into_.resize(network_.nodes.size());
    collect_edges();
    const LinearCircuit circuit(network_.nodes.size(), branches_, held_);
    if (case_ == Case::demand)
      add_loads();
    else
      add_feeds();
    share();
    flow_.voltage = circuit.solve(into_, voltages_);
    flow_.current = currents(circuit, flow_.voltage);
    mark_unknowns(circuit);
    return std::move(flow_);
  }

 private:
  std::uint32_t component(std::uint32_t node) const { return view_.component[node]; }

  const network::SourcePoint* point_of(std::size_t element) const {
    const auto found = std::ranges::find(network_.sources, element, &network::SourcePoint::element);
    return found == network_.sources.end() ? nullptr : &*found;
  }

  std::uint32_t line(const network::SourcePoint& source, Conductor c) const {
    return network_.node(source.element, source.terminal, c);
  }
  std::uint32_t neutral(const network::SourcePoint& source) const {
    return network_.neutral(source.element, source.terminal);
  }

  VoltagePhasor nominal(const network::SourcePoint& source, std::size_t k) const {
    const site::Element& element = site_.elements[source.element];
    const auto* generator = site::facts<site::Generator>(element);
    const auto* inverter = site::facts<site::Inverter>(element);
    const bool tied = (generator != nullptr && generator->lines_tied) ||
                      (inverter != nullptr && inverter->lines_tied);
    const double third = 2.0 * std::numbers::pi / 3.0;
    const double turn = tied ? 0.0 : -third * static_cast<double>(k);
    return electrical::polar(to_earth_, turn);
  }

  bool hold_sources() {
    held_.resize(network_.nodes.size());
    voltages_.resize(network_.nodes.size());
    flow_.held_by.assign(network_.nodes.size(), no_node);
    if (!view_.clashes.empty())
      flow_.why_not = "sources meet out of step";
    else if (!site_.system.line_to_earth)
      flow_.why_not = "the supply's 'system' gives no voltage";
    if (!flow_.why_not.empty()) return false;
    to_earth_ = site_.system.line_to_earth.value_or(Voltage{});
    for (const network::Zone& zone : view_.zones)
      for (const std::size_t element : zone.sources)
        if (const auto* point = point_of(element)) hold(*point);
    for (std::uint32_t node = 0; node < network_.nodes.size(); ++node)
      if (const auto it = holder_.find(component(node)); it != holder_.end())
        flow_.held_by[node] = it->second;
    return flow_.why_not.empty();
  }

  void hold(const network::SourcePoint& source) {
    bool alone = true;
    for (const Conductor c : line_conductors)
      if (const std::uint32_t node = line(source, c); node != no_node)
        alone = alone && !holder_.contains(component(node));
    if (!alone) {
      sharing_.push_back(&source);
      return;
    }
    for (std::size_t k = 0; k < line_conductors.size(); ++k)
      if (const std::uint32_t node = line(source, line_conductors.at(k)); node != no_node)
        hold(node, nominal(source, k));
    const std::uint32_t node = neutral(source);
    if (node == no_node) return;
    if (holder_.contains(component(node)))
      flow_.why_not = "sources that do not run together share one neutral";
    hold(node, {});
    holding_.push_back(&source);
  }

  void hold(std::uint32_t node, VoltagePhasor voltage) {
    held_[node] = true;
    voltages_[node] = voltage;
    holder_.emplace(component(node), node);
  }

  void collect_edges() {
    const site::Conductors followed = site::line_and_neutral | site::Conductors{Conductor::pen};
    for (std::size_t e = 0; e < network_.edges.size(); ++e) {
      const network::Edge& edge = network_.edges[e];
      const bool conducts = edge.kind != network::EdgeKind::bond &&
                            edge.kind != network::EdgeKind::earth && followed.has(edge.conductor);
      if (!conducts || network::closed(edge, view_.positions) != network::Closed::yes) continue;
      branches_.push_back({edge.a, edge.b, impedance(edge)});
      edge_of_.push_back(e);
    }
  }

  Impedance impedance(const network::Edge& edge) {
    if (edge.run == site::none || !site_.runs[edge.run].cable) return contact;
    const auto known = cables_.find(edge.run);
    if (known != cables_.end()) return known->second;
    const auto found = service_impedance(site_.runs[edge.run]);
    for (const Missing& missing : found.missing)
      unknowns_.push_back({missing, {}, edge.run});
    if (!found.why_not.empty())
      unknowns_.push_back({{found.why_not, site_.runs[edge.run].designation}, {}, edge.run});
    const Impedance z = found.value.value_or(unknown_cable);
    // A cable of no length is a joint.
    const Impedance used = electrical::magnitude(z) < contact.re ? contact : z;
    cables_.emplace(edge.run, used);
    return used;
  }

  void inject(const std::vector<Injection>& all) {
    for (const Injection& one : all)
      into_[one.node] += one.current;
  }

  /// What an element takes in at a terminal, given what each of its lines takes at its voltage.
  template <class PerLine>
  std::vector<Injection> taken(std::size_t element, std::size_t terminal, PerLine per_line) const {
    std::vector<Injection> all;
    CurrentPhasor back{};
    for (const Conductor c : line_conductors) {
      const std::uint32_t node = network_.node(element, terminal, c);
      if (node == no_node || flow_.held_by[node] == no_node) continue;
      const CurrentPhasor current = per_line(voltages_[flow_.held_by[node]]);
      all.push_back({node, -current});
      back += current;
    }
    const std::uint32_t node = network_.neutral(element, terminal);
    if (node != no_node) all.push_back({node, back});
    return all;
  }

  void add_loads() {
    for (const std::size_t load : view_.alive_loads) {
      const site::Element& element = site_.elements[load];
      const LoadDemand demand = load_demand(element, view_.state->kind);
      const int lines = std::max(1, (element.conductors & site::lines).count());
      const auto draws = [&](ActivePower power, double cos_phi) {
        return taken(load, 0, [&](VoltagePhasor across) {
          return electrical::load_current(power / lines, cos_phi, across).value_or(CurrentPhasor{});
        });
      };
      if (demand.missing.empty()) inject(draws(demand.power, demand.cos_phi));
      for (const Missing& missing : demand.missing)
        unknowns_.push_back({missing, draws(1.0 * unit::kilowatt, 1.0), site::none});
    }
  }

  std::optional<ApparentPower> power_of(std::size_t source) const {
    const site::Element& element = site_.elements[source];
    if (const auto* inverter = site::facts<site::Inverter>(element)) return inverter->power;
    if (const auto* generator = site::facts<site::Generator>(element)) return generator->power;
    return std::nullopt;
  }

  void add_feeds() {
    for (const network::Zone& zone : view_.zones)
      for (const std::size_t source : zone.following) {
        const auto* point = point_of(source);
        const int lines = std::max(1, (site_.elements[source].conductors & site::lines).count());
        const auto gives = [&](ApparentPower power) {
          return taken(source, point->terminal, [&](VoltagePhasor across) {
            const ActivePower each{-1.0 * power.base / static_cast<double>(lines)};
            return electrical::load_current(each, 1.0, across).value_or(CurrentPhasor{});
          });
        };
        if (const auto power = power_of(source))
          inject(gives(*power));
        else
          unknowns_.push_back({{"power", called(site_.elements[source])},
                               gives(1.0 * unit::kilovolt_ampere),
                               site::none});
      }
  }

  /// Sources in step with one that holds the voltage take over their part of its load.
  void share() {
    std::unordered_map<std::uint32_t, CurrentPhasor> total;
    for (std::uint32_t node = 0; node < into_.size(); ++node)
      total[component(node)] += -into_[node];
    for (const network::SourcePoint* source : sharing_)
      share_of(*source, total);
  }

  void share_of(const network::SourcePoint& source,
                std::unordered_map<std::uint32_t, CurrentPhasor>& total) {
    std::vector<Injection> change;
    CurrentPhasor back{};
    CurrentPhasor changed_back{};
    const auto own = power_of(source.element);
    for (const Conductor c : line_conductors) {
      const std::uint32_t node = line(source, c);
      if (node == no_node || flow_.held_by[node] == no_node) continue;
      Power sum{};
      for (const network::SourcePoint* other : together(node))
        sum += power_of(other->element).value_or(ApparentPower{}).base;
      const double part = own && sum.si > 0.0 ? own->base / sum : 0.0;
      const CurrentPhasor current = part * total[component(node)];
      into_[node] += current;
      back += current;
      const CurrentPhasor one =
          electrical::load_current(1.0 * unit::kilowatt, 1.0, voltages_[flow_.held_by[node]])
              .value_or(CurrentPhasor{});
      change.push_back({node, one});
      changed_back += one;
    }
    if (const std::uint32_t node = neutral(source); node != no_node) {
      into_[node] += -back;
      change.push_back({node, -changed_back});
    }
    if (own) return;
    unknowns_.push_back({{"power", called(site_.elements[source.element])}, change, site::none});
  }

  /// All sources that form the voltage of this line.
  std::vector<const network::SourcePoint*> together(std::uint32_t node) const {
    std::vector<const network::SourcePoint*> all;
    for (const auto* list : {&holding_, &sharing_})
      for (const network::SourcePoint* source : *list)
        for (const Conductor c : line_conductors) {
          const std::uint32_t its = line(*source, c);
          if (its == no_node || component(its) != component(node)) continue;
          all.push_back(source);
          break;
        }
    return all;
  }

  std::vector<CurrentPhasor> currents(const LinearCircuit& circuit,
                                      const std::vector<VoltagePhasor>& voltages) const {
    std::vector<CurrentPhasor> all(network_.edges.size());
    for (std::size_t b = 0; b < branches_.size(); ++b)
      all[edge_of_[b]] = circuit.current(b, voltages);
    return all;
  }

  // An impedance that grows acts as a current beside it, in proportion to its own.
  void mark_unknowns(const LinearCircuit& circuit) {
    flow_.open_voltage.resize(network_.nodes.size());
    flow_.open_current.resize(network_.edges.size());
    const std::vector<VoltagePhasor> nothing(network_.nodes.size());
    for (std::size_t u = 0; u < unknowns_.size(); ++u) {
      const Unknown& unknown = unknowns_[u];
      flow_.missing.push_back(unknown.missing);
      std::vector<CurrentPhasor> into(network_.nodes.size());
      for (const Injection& one : unknown.change)
        into[one.node] += one.current;
      for (std::size_t b = 0; b < branches_.size(); ++b) {
        if (unknown.run == site::none || network_.edges[edge_of_[b]].run != unknown.run) continue;
        into[branches_[b].a] += flow_.current[edge_of_[b]];
        into[branches_[b].b] += -flow_.current[edge_of_[b]];
      }
      mark(u, circuit, circuit.solve(into, nothing));
    }
  }

  void mark(std::size_t u, const LinearCircuit& circuit, const std::vector<VoltagePhasor>& change) {
    for (std::size_t node = 0; node < change.size(); ++node)
      if (electrical::magnitude(change[node]).si > least_change)
        flow_.open_voltage[node].push_back(u);
    for (std::size_t b = 0; b < branches_.size(); ++b) {
      const std::size_t e = edge_of_[b];
      CurrentPhasor current = circuit.current(b, change);
      const bool own = unknowns_[u].run != site::none && network_.edges[e].run == unknowns_[u].run;
      if (own) current = current - flow_.current[e];
      if (electrical::magnitude(current).si > least_change) flow_.open_current[e].push_back(u);
    }
  }

  const site::Site& site_;
  const network::Network& network_;
  const network::StateView& view_;
  Case case_;
  Flow flow_;
  Voltage to_earth_;
  std::vector<bool> held_;
  std::vector<VoltagePhasor> voltages_;
  std::unordered_map<std::uint32_t, std::uint32_t> holder_;  ///< node that is held, by component
  std::vector<const network::SourcePoint*> holding_;
  std::vector<const network::SourcePoint*> sharing_;
  std::vector<Branch> branches_;
  std::vector<std::size_t> edge_of_;  ///< by branch
  std::unordered_map<std::size_t, Impedance> cables_;
  std::vector<CurrentPhasor> into_;
  std::vector<Unknown> unknowns_;
};

}  // namespace

Flow flow(const site::Site& site, const network::Network& network, const network::StateView& view,
          Case what) {
  return Solver(site, network, view, what).run();
}

}  // namespace linewright::figures
