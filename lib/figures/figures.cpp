#include "figures/figures.hpp"

#include <algorithm>
#include <array>
#include <functional>
#include <optional>

#include <fmt/core.h>

#include "electrical/overload.hpp"
#include "electrical/voltage_drop.hpp"
#include "figures/cable_data.hpp"
#include "figures/flow.hpp"
#include "figures/guards.hpp"
#include "figures/load_demand.hpp"
#include "units/print.hpp"

namespace linewright::figures {
namespace {

using electrical::CurrentPhasor;
using electrical::Judgement;
using network::no_node;
using site::Conductor;

constexpr std::array<Conductor, 5> conductors{Conductor::l1, Conductor::l2, Conductor::l3,
                                              Conductor::n, Conductor::pen};

/// Currents of some conductors with what of the file they hang on.
struct Loaded {
  Current line;     ///< of the most loaded line
  Current neutral;  ///< of N or PEN
  std::string working;
  std::vector<std::size_t> open;  ///< indices into Flow::missing
  bool alive = false;
  bool has_neutral = false;
};

void also(std::vector<std::size_t>& all, const std::vector<std::size_t>& more) {
  for (const std::size_t one : more)
    if (std::ranges::count(all, one) == 0) all.push_back(one);
}

void take(Loaded& loaded, Conductor c, Current current) {
  Current& most = site::lines.has(c) ? loaded.line : loaded.neutral;
  most = std::max(most, current);
  loaded.has_neutral = loaded.has_neutral || !site::lines.has(c);
  loaded.working +=
      fmt::format("{}{} {}", loaded.working.empty() ? "" : ", ", site::mark(c),
                  current < 1.0 * unit::milliampere ? "0 A" : print_rounded(current, 3));
}

/// The figures of one state.
class StateFigures {
 public:
  StateFigures(const site::Site& site, const network::Network& network, const EdgesAt& edges,
               const network::StateView& view, std::size_t state, std::vector<Figure>& into)
      : site_(site),
        network_(network),
        edges_(edges),
        view_(view),
        state_(state),
        into_(into),
        demand_(flow(site, network, view, Case::demand)) {
    const bool follows = std::ranges::any_of(
        view.zones, [](const network::Zone& zone) { return !zone.following.empty(); });
    if (follows) feed_ = flow(site, network, view, Case::feed);
  }

  void run() {
    for (std::size_t e = 0; e < site_.elements.size(); ++e) {
      const site::Element& element = site_.elements[e];
      if (const auto* bar = site::facts<site::Busbar>(element)) add_busbar(e, *bar);
      if (site::facts<site::LoadGroup>(element) != nullptr && view_.feeds(e)) {
        add_load(e);
        add_drop(e);
      }
    }
    for (const network::SourcePoint& source : network_.sources)
      if (std::ranges::count(view_.state->running, source.element) > 0) add_source(source);
    if (!demand_.why_not.empty()) return;
    for (std::size_t r = 0; r < site_.runs.size(); ++r)
      if (site_.runs[r].cable) add_cable(r);
  }

 private:
  Figure figure(What what, About about) const {
    Figure one;
    one.what = what;
    one.about = about;
    one.state = state_;
    return one;
  }

  void lack(Figure& one, const Flow& flow, const std::vector<std::size_t>& open) const {
    one.why_not = flow.why_not;
    for (const std::size_t u : open)
      if (std::ranges::find(one.missing, flow.missing[u]) == one.missing.end())
        one.missing.push_back(flow.missing[u]);
  }

  bool alive(std::uint32_t node) const {
    return node != no_node && demand_.held_by[node] != no_node;
  }

  /// What enters a node (or leaves it) over its edges, as `counts` says of each current into it.
  CurrentPhasor sum_at(const Flow& flow, std::uint32_t node,
                       const std::function<bool(CurrentPhasor)>& counts,
                       std::vector<std::size_t>& open) const {
    CurrentPhasor sum{};
    for (const std::uint32_t e : edges_[node]) {
      also(open, flow.open_current[e]);
      const CurrentPhasor in = network_.edges[e].b == node ? flow.current[e] : -flow.current[e];
      if (counts(in)) sum += in;
    }
    return sum;
  }

  /// What passes through a bar: all that enters. In its neutral what leaves, which is the same.
  Loaded through(const Flow& flow, std::size_t element) const {
    Loaded loaded;
    for (const Conductor c : conductors) {
      const std::uint32_t node = network_.node(element, 0, c);
      if (!alive(node)) continue;
      loaded.alive = true;
      const bool line = site::lines.has(c);
      std::uint32_t first = no_node;
      for (const Conductor l : conductors)
        if (first == no_node && alive(network_.node(element, 0, l)))
          first = network_.node(element, 0, l);
      const auto across = flow.voltage[line ? node : first];
      const auto enters = [&](CurrentPhasor in) {
        const Power power = (across * electrical::conjugate(in)).re;
        return line ? power.si > 0.0 : power.si < 0.0;
      };
      // Currents in a neutral have any angle to a line's voltage: its net current is the sum of
      // what the feed brings, and that is what the widest way carries.
      Current most = electrical::magnitude(sum_at(flow, node, enters, loaded.open));
      if (!line) most = widest(flow, node);
      take(loaded, c, most);
    }
    return loaded;
  }

  Current widest(const Flow& flow, std::uint32_t node) const {
    Current most{};
    for (const std::uint32_t e : edges_[node])
      most = std::max(most, electrical::magnitude(flow.current[e]));
    return most;
  }

  void add_current(const Flow& flow, const Loaded& loaded, What what, About about,
                   std::optional<Current> limit, std::string source) {
    Figure one = figure(what, about);
    lack(one, flow, loaded.open);
    // With something missing these numbers would be made up.
    if (one.missing.empty() && one.why_not.empty()) one.working = loaded.working;
    one.source = std::move(source);
    if (one.missing.empty() && one.why_not.empty())
      one.value = what == What::neutral_current ? loaded.neutral : loaded.line;
    if (limit) one.limit = *limit;
    if (one.value && limit)
      one.holds = electrical::at_most(std::optional(std::get<Current>(*one.value)), limit);
    into_.push_back(std::move(one));
  }

  void add_busbar(std::size_t e, const site::Busbar& bar) {
    if (!demand_.why_not.empty()) return;
    const Loaded loaded = through(demand_, e);
    if (loaded.alive)
      add_current(demand_, loaded, What::current, {.element = e}, bar.rated_current,
                  "sum of the currents by phase (Kirchhoff)");
  }

  std::optional<Current> limit_of(const site::Element& element) const {
    if (const auto* supply = site::facts<site::Supply>(element)) return supply->service_fuse;
    const auto* generator = site::facts<site::Generator>(element);
    const auto* inverter = site::facts<site::Inverter>(element);
    const auto power = generator != nullptr ? generator->power : inverter->power;
    if (!power || !site_.system.line_to_earth) return std::nullopt;
    const int lines = std::max(1, (element.conductors & site::lines).count());
    return power->base / (lines * *site_.system.line_to_earth);
  }

  void add_source(const network::SourcePoint& source) {
    const site::Element& element = site_.elements[source.element];
    const About about{.element = source.element};
    Loaded loaded;
    const network::Zone* zone = view_.zone_of(source.element);
    const bool follows = zone != nullptr && std::ranges::count(zone->following, source.element) > 0;
    const Flow& flow = follows && feed_ ? *feed_ : demand_;
    if (flow.why_not.empty()) {
      for (const Conductor c : conductors) {
        const std::uint32_t node = network_.node(source.element, source.terminal, c);
        if (!alive(node)) continue;
        loaded.alive = true;
        if (!follows)
          take(loaded, c,
               electrical::magnitude(sum_at(flow, node, [](auto) { return true; }, loaded.open)));
      }
      if (!loaded.alive) return;
    }
    if (follows) {
      if (flow.why_not.empty()) add_rise(flow, source, about);
      return;
    }
    add_current(flow, loaded, What::current, about, limit_of(element),
                "sum of the currents by phase (Kirchhoff); power / (lines × U0) for the limit");
    if ((element.conductors & site::lines).count() > 1)
      add_current(flow, loaded, What::neutral_current, about, std::nullopt,
                  "sum of the phasors of the lines");
  }

  /// How far a line with its neutral is below what is held for it; and what it hangs on.
  double drop_at(const Flow& flow, std::uint32_t line, std::uint32_t neutral, std::string& working,
                 std::vector<std::size_t>& open) const {
    also(open, flow.open_voltage[line]);
    electrical::VoltagePhasor back{};
    if (neutral != no_node) {
      also(open, flow.open_voltage[neutral]);
      back = flow.voltage[neutral];
    }
    const auto sent = flow.voltage[flow.held_by[line]];
    const auto received = flow.voltage[line] - back;
    working = fmt::format("1 − {} / {}", print_rounded(electrical::magnitude(received)),
                          print_rounded(electrical::magnitude(sent)));
    return electrical::relative_drop(sent, received);
  }

  struct Worst {
    double drop = 0.0;
    std::string working;
    std::vector<std::size_t> open;
    bool any = false;
  };

  /// The line of a terminal with the largest drop, or with the largest rise.
  Worst worst_at(const Flow& flow, std::size_t element, std::size_t terminal, double sign) const {
    Worst worst;
    std::uint32_t neutral = network_.neutral(element, terminal);
    if (!alive(neutral)) neutral = no_node;
    for (const Conductor c : {Conductor::l1, Conductor::l2, Conductor::l3}) {
      const std::uint32_t node = network_.node(element, terminal, c);
      if (!alive(node)) continue;
      std::string working;
      const double drop = sign * drop_at(flow, node, neutral, working, worst.open);
      if (worst.any && drop <= worst.drop) continue;
      worst.any = true;
      worst.drop = drop;
      worst.working = fmt::format("{}: {}", site::mark(c), working);
    }
    return worst;
  }

  bool fed_by_supply(std::size_t load) const {
    return std::ranges::any_of(view_.loops, [&](const network::Loop& loop) {
      return loop.load == load && site::facts<site::Supply>(site_.elements[loop.source]) != nullptr;
    });
  }

  /// What the load draws of each of its lines, by itself.
  void add_load(std::size_t e) {
    const site::Element& element = site_.elements[e];
    const LoadDemand demand = load_demand(element, view_.state->kind);
    Figure one = figure(What::current, {.element = e});
    one.missing = demand.missing;
    one.source = "I = P / (lines × U0 × cos φ)";
    if (!site_.system.line_to_earth) one.why_not = "the supply's 'system' gives no voltage";
    if (one.missing.empty() && one.why_not.empty()) {
      const Voltage to_earth = site_.system.line_to_earth.value_or(Voltage{});
      const int lines = std::max(1, (element.conductors & site::lines).count());
      const Current current = demand.power.base / (lines * to_earth) / demand.cos_phi;
      one.value = current;
      one.working = current.si > 0.0 ? fmt::format("{} / ({} × {}) = {}", demand.working, lines,
                                                   to_earth, print_rounded(current, 3))
                                     : demand.working;
    }
    into_.push_back(std::move(one));
  }

  void add_drop(std::size_t e) {
    Figure one = figure(What::drop, {.element = e});
    lack(one, demand_, {});
    if (one.why_not.empty()) {
      Worst worst = worst_at(demand_, e, 0, 1.0);
      if (!worst.any) return;
      lack(one, demand_, worst.open);
      const auto& load = *site::facts<site::LoadGroup>(site_.elements[e]);
      const auto kind = fed_by_supply(e) ? electrical::SupplyKind::public_network
                                         : electrical::SupplyKind::private_supply;
      const auto use = load.use == site::Use::lighting ? electrical::LoadKind::lighting
                                                       : electrical::LoadKind::other;
      const double limit = electrical::drop_limit(kind, use, Length{}).value_or(0.0);
      one.limit = limit;
      one.source = "IEC 60364-5-52:2009, Table G.52.1 (without its allowance beyond 100 m)";
      if (one.missing.empty()) {
        one.working =
            load_demand(site_.elements[e], view_.state->kind).working + "; " + worst.working;
        one.value = worst.drop;
        one.holds = electrical::judged(worst.drop <= limit + 1e-12);
      }
    }
    into_.push_back(std::move(one));
  }

  void add_rise(const Flow& flow, const network::SourcePoint& source, About about) {
    Figure one = figure(What::rise, about);
    Worst worst = worst_at(flow, source.element, source.terminal, -1.0);
    if (!worst.any) return;
    lack(one, flow, worst.open);
    one.source = "Kirchhoff's voltage law";
    if (one.missing.empty()) {
      one.working = worst.working + ", at full power with no load";
      one.value = worst.drop;
    }
    into_.push_back(std::move(one));
  }

  Loaded of_run(const Flow& flow, std::size_t r, double& along) const {
    Loaded loaded;
    const site::Run& run = site_.runs[r];
    for (const std::uint32_t e : run_edges(r)) {
      const network::Edge& edge = network_.edges[e];
      if (!alive(edge.a)) continue;
      loaded.alive = loaded.alive || site::lines.has(edge.conductor);
      also(loaded.open, flow.open_current[e]);
      take(loaded, edge.conductor, electrical::magnitude(flow.current[e]));
      const bool forward =
          edge.a == network_.node(run.from.element, run.from.terminal, edge.conductor);
      const double power = (flow.voltage[edge.a] * electrical::conjugate(flow.current[e])).re.si;
      along += forward ? power : -power;
    }
    return loaded;
  }

  std::vector<std::uint32_t> run_edges(std::size_t r) const {
    std::vector<std::uint32_t> found;
    const site::Run& run = site_.runs[r];
    for (const Conductor c : conductors) {
      const std::uint32_t node = network_.node(run.from.element, run.from.terminal, c);
      if (node == no_node) continue;
      for (const std::uint32_t e : edges_[node])
        if (network_.edges[e].run == r) found.push_back(e);
    }
    return found;
  }

  void add_cable(std::size_t r) {
    const About about{.run = r};
    double along = 0.0;
    const Loaded demand = of_run(demand_, r, along);
    if (!demand.alive) return;
    const std::string kirchhoff = "sum of the loads behind it by phase (Kirchhoff)";
    add_current(demand_, demand, What::current, about, std::nullopt, kirchhoff);
    if ((site_.runs[r].conductors & site::lines).count() > 1 && demand.has_neutral)
      add_current(demand_, demand, What::neutral_current, about, std::nullopt,
                  "sum of the phasors of the lines");
    const Figure most = into_.back();
    std::optional<Current> ib;
    if (most.missing.empty()) ib = demand.line;
    std::vector<Missing> missing = most.missing;
    if (feed_ && feed_->why_not.empty()) {
      double back = 0.0;
      const Loaded feed = of_run(*feed_, r, back);
      if (feed.line.si > 1e-6 || !feed.open.empty()) {
        add_current(*feed_, feed, What::feed_current, about, std::nullopt,
                    "power / (lines × U0) of the sources behind it");
        const Figure& fed = into_.back();
        missing.insert(missing.end(), fed.missing.begin(), fed.missing.end());
        ib = ib && fed.missing.empty() ? std::optional(std::max(*ib, feed.line)) : std::nullopt;
      }
    }
    check_overload(r, along, ib, missing);
  }

  void check_overload(std::size_t r, double along, std::optional<Current> ib,
                      const std::vector<Missing>& missing) {
    const site::Run& run = site_.runs[r];
    const Guards guards =
        guards_of({site_, network_, edges_, view_}, r, along < -1e-6 ? run.to : run.from);
    const OfCable<Current> iz = capacity(run);
    const electrical::OverloadCheck check =
        electrical::overload({.design = ib, .rated = guards.rated, .capacity = iz.value});
    std::string by;
    for (const std::size_t e : guards.elements)
      by += (by.empty() ? "" : " + ") + site_.elements[e].designation;
    if (by.empty()) by = "the supply's fuse";
    Figure carries = overload_figure(What::protection, r, ib, guards.rated);
    carries.holds = check.carries_load;
    carries.missing.insert(carries.missing.end(), missing.begin(), missing.end());
    carries.missing.insert(carries.missing.end(), guards.missing.begin(), guards.missing.end());
    carries.why_not = guards.why_not;
    if (guards.rated)
      carries.working = fmt::format("In = {} ({})", print_rounded(*guards.rated), by);
    into_.push_back(std::move(carries));
    Figure cable = overload_figure(What::capacity, r, guards.rated, iz.value);
    cable.holds = check.cable_carries;
    lack(cable, guards, iz);
    cable.working = iz.working;
    into_.push_back(std::move(cable));
    std::optional<Current> allowed;
    if (iz.value) allowed = 1.45 * *iz.value;
    Figure opens = overload_figure(What::operates_in_time, r, guards.operates, allowed);
    opens.holds = electrical::at_most(guards.operates, allowed);
    lack(opens, guards, iz);
    if (guards.operates && allowed)
      opens.working = fmt::format("I2 = {} ({}), 1.45 Iz = {}", print_rounded(*guards.operates), by,
                                  print_rounded(*allowed));
    into_.push_back(std::move(opens));
  }

  static void lack(Figure& one, const Guards& guards, const OfCable<Current>& iz) {
    one.missing = guards.missing;
    one.missing.insert(one.missing.end(), iz.missing.begin(), iz.missing.end());
    one.why_not = guards.why_not.empty() ? iz.why_not : guards.why_not;
  }

  Figure overload_figure(What what, std::size_t r, std::optional<Current> value,
                         std::optional<Current> limit) const {
    Figure one = figure(what, {.run = r});
    if (value) one.value = *value;
    if (limit) one.limit = *limit;
    one.source = "IEC 60364-4-43:2008, 433.1";
    return one;
  }

  const site::Site& site_;
  const network::Network& network_;
  const EdgesAt& edges_;
  const network::StateView& view_;
  std::size_t state_;
  std::vector<Figure>& into_;
  Flow demand_;
  std::optional<Flow> feed_;
};

}  // namespace

std::vector<Figure> figures_of(const site::Site& site, const network::Network& network,
                               const std::vector<network::StateView>& states) {
  std::vector<Figure> all;
  const EdgesAt edges = edges_at(network);
  for (std::size_t s = 0; s < states.size(); ++s)
    StateFigures(site, network, edges, states[s], s, all).run();
  return all;
}

}  // namespace linewright::figures
