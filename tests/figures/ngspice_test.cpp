// The samples' conductors solved by a circuit simulator that is not ours. The exporter below shares
// neither the conductor graph nor the solver: it goes from elements and runs to resistors, coils
// and sources, and takes from the library only where the switches of a state stand.
//
// What differs: joints are of a tenth of a micro-ohm here, impedances are written as R and L at 50
// Hz.
#include <array>
#include <cmath>
#include <complex>
#include <map>
#include <numbers>
#include <set>
#include <sstream>
#include <string>

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "drawing/tools.hpp"
#include "figures/flow.hpp"
#include "input/read.hpp"
#include "support/expected.hpp"
#include "support/paths.hpp"
#include "support/site_from.hpp"

namespace linewright::tests {
namespace {

using Complex = std::complex<double>;
using site::Conductor;

constexpr double nominal = 230.0;
constexpr std::array<Conductor, 5> followed{Conductor::l1, Conductor::l2, Conductor::l3,
                                            Conductor::n, Conductor::pen};

std::string node(std::size_t element, std::size_t terminal, Conductor c) {
  return fmt::format("n{}_{}_{}", element, terminal, static_cast<int>(c));
}

/// IEC 60228 class 2 copper at 20 degrees, in ohms a kilometre, put down here once more.
double ohms_a_kilometre(double mm2) {
  const std::map<double, double> table{{1.5, 12.1}, {2.5, 7.41}, {4, 4.61},   {6, 3.08},
                                       {10, 1.83},  {16, 1.15},  {25, 0.727}, {35, 0.524},
                                       {50, 0.387}, {70, 0.268}, {95, 0.193}};
  for (const auto& [size, ohms] : table)
    if (std::abs(size - mm2) < 1e-6) return ohms;
  FAIL("no resistance for " << mm2 << " mm²");
  return 0.0;
}

double resistance_of(const site::Cable& cable) {
  const double hot = cable.insulation == "XLPE" ? 90.0 : 70.0;
  return ohms_a_kilometre(cable.cross_section->in(unit::mm2)) * 1e-3 *
         (1.0 + 0.004 * (hot - 20.0)) * cable.length->in(unit::metre);
}

double reactance_of(const site::Cable& cable) {
  return 0.08e-3 * cable.length->in(unit::metre);
}

double degrees_of(Conductor line) {
  return line == Conductor::l1 ? 0.0 : line == Conductor::l2 ? -120.0 : 120.0;
}

Complex turned(double size, double degrees) {
  return std::polar(size, degrees * std::numbers::pi / 180.0);
}

/// The text for the simulator, for one state.
class Netlist {
 public:
  Netlist(const site::Site& site, const network::Network& network, const network::StateView& view)
      : site_(site), network_(network), view_(view) {}

  std::string text() {
    for (std::size_t e = 0; e < site_.elements.size(); ++e)
      add(e);
    for (std::size_t r = 0; r < site_.runs.size(); ++r)
      add_run(site_.runs[r]);
    add_loads();
    add_sources();
    // A gigaohm to ground from everywhere, so that what is dead has a voltage too.
    for (const std::string& one : nodes_)
      line(fmt::format("RG{} {} 0 1e9", count_++, one));
    return "* made by a test\n" + text_ +
           ".control\nset numdgt=12\nac lin 1 50 50\nprint all\n.endc\n.end\n";
  }

 private:
  void line(const std::string& words) { text_ += words + "\n"; }
  std::string used(const std::string& name) {
    nodes_.insert(name);
    return name;
  }
  void join(const std::string& a, const std::string& b) {
    line(fmt::format("R{} {} {} 1e-7", count_++, used(a), used(b)));
  }

  std::string position(std::size_t e, const std::string& part) const {
    const int by = network_.find_switch(e, part);
    const int at = view_.positions.of[static_cast<std::size_t>(by)];
    return network_.switches[static_cast<std::size_t>(by)].positions[static_cast<std::size_t>(at)];
  }

  /// Joins two terminals: all that pass, and those that a device opens where it is closed.
  void through(std::size_t e, std::size_t a, std::size_t b, const site::Poles& poles, bool closed) {
    int left = poles.line_poles;
    for (const Conductor c : followed) {
      if (!site_.elements[e].conductors.has(c)) continue;
      const bool line = site::lines.has(c);
      const bool opens = line ? left-- > 0 : poles.neutral;
      if (!opens || closed) join(node(e, a, c), node(e, b, c));
    }
  }

  void add(std::size_t e) {
    const site::Element& element = site_.elements[e];
    if (const auto* device = site::facts<site::Device>(element)) return add_device(e, *device);
    if (site::facts<site::Meter>(element) != nullptr ||
        site::facts<site::Connector>(element) != nullptr)
      return through(e, 0, 1, {}, true);
    if (site::facts<site::PenSplit>(element) != nullptr) {
      through(e, 0, 1, {.line_poles = 0, .neutral = true, .written = {}}, true);
      join(node(e, 0, Conductor::pen), node(e, 1, Conductor::n));
    }
    const auto* inverter = site::facts<site::Inverter>(element);
    if (inverter == nullptr || !inverter->has_backup_side) return;
    const bool closed = position(e, "transfer") == "closed";
    through(e, site_.find_terminal(e, "ac"), site_.find_terminal(e, "backup"),
            {.line_poles = 3,
             .neutral = inverter->island_neutral == site::IslandNeutral::opened,
             .written = {}},
            closed);
  }

  void add_device(std::size_t e, const site::Device& device) {
    if ((site_.elements[e].conductors & site::lines).empty()) return;
    const site::Poles poles = device.poles.value_or(site::Poles{});
    if (device.kind != site::DeviceKind::changeover)
      return through(e, 0, 1, poles, position(e, "") == "closed");
    for (const site::Throw& side : device.throws)
      if (!side.terminal.empty())
        through(e, site_.find_terminal(e, side.terminal), site_.find_terminal(e, "common"), poles,
                position(e, "") == side.position);
  }

  void add_run(const site::Run& run) {
    for (const Conductor c : followed) {
      if (!run.conductors.has(c)) continue;
      const std::string a = node(run.from.element, run.from.terminal, c);
      const std::string b = node(run.to.element, run.to.terminal, c);
      if (!run.cable) {
        join(a, b);
        continue;
      }
      const std::size_t own = count_++;
      line(fmt::format("R{} {} m{} {:.12g}", own, used(a), own, resistance_of(*run.cable)));
      line(fmt::format("L{} m{} {} {:.12g}", own, own, used(b),
                       reactance_of(*run.cable) / (2.0 * std::numbers::pi * 50.0)));
    }
  }

  void draw_current(const std::string& from, const std::string& to, Complex current) {
    line(fmt::format("I{} {} {} AC {:.12g} {:.12g}", count_++, used(from), used(to),
                     std::abs(current), std::arg(current) * 180.0 / std::numbers::pi));
  }

  void add_loads() {
    const bool island = view_.state->kind == site::StateKind::island;
    for (std::size_t e = 0; e < site_.elements.size(); ++e) {
      const auto* load = site::facts<site::LoadGroup>(site_.elements[e]);
      if (load == nullptr || !view_.feeds(e)) continue;
      const bool charger = load->charging && load->charging->in_island == site::IslandCharging::off;
      if (island && (load->shed_in_island || charger)) continue;
      const site::Conductors lines = site_.elements[e].conductors & site::lines;
      const double watts = load->power->in(unit::watt)*load->diversity.value_or(1.0);
      const double factor = load->power_factor.value_or(1.0);
      for (const Conductor c : lines_of(lines)) {
        const Complex current =
            turned(watts / lines.count() / (nominal * factor),
                   degrees_of(c) - std::acos(factor) * 180.0 / std::numbers::pi);
        draw_current(node(e, 0, c), node(e, 0, Conductor::n), current);
        total_[c] += current;
      }
    }
  }

  static std::vector<Conductor> lines_of(site::Conductors lines) {
    std::vector<Conductor> all;
    for (const Conductor c : followed)
      if (lines.has(c)) all.push_back(c);
    return all;
  }

  // The first source of the state holds the voltage; those of its set give their part.
  void add_sources() {
    REQUIRE(view_.zones.size() <= 1);
    if (view_.zones.empty()) return;
    const auto& sources = view_.zones.front().sources;
    double all = 0.0;
    const auto power = [&](std::size_t e) {
      const auto* inverter = site::facts<site::Inverter>(site_.elements[e]);
      return inverter == nullptr ? 0.0 : inverter->power->in(unit::volt_ampere);
    };
    for (const std::size_t e : sources)
      all += power(e);
    for (std::size_t i = 0; i < sources.size(); ++i) {
      const std::size_t e = sources[i];
      const site::Conductors own = site_.elements[e].conductors;
      const std::size_t terminal = std::max<std::size_t>(
          site_.find_terminal(e, "backup") == site::none ? 0 : site_.find_terminal(e, "backup"), 0);
      const Conductor back = own.has(Conductor::n) ? Conductor::n : Conductor::pen;
      if (i == 0) join(node(e, terminal, back), "0");
      for (const Conductor c : lines_of(own & site::lines)) {
        const std::string at = used(node(e, terminal, c));
        if (i == 0)
          line(fmt::format("V{} {} 0 AC {} {}", count_++, at, nominal, degrees_of(c)));
        else
          draw_current(node(e, terminal, back), at, total_[c] * power(e) / all);
      }
    }
  }

  const site::Site& site_;
  const network::Network& network_;
  const network::StateView& view_;
  std::string text_;
  std::set<std::string> nodes_;
  std::map<Conductor, Complex> total_;
  std::size_t count_ = 1;
};

/// Voltages by node as the simulator prints them.
std::map<std::string, Complex> simulate(const std::string& netlist) {
  const std::string file = write_scratch("flow.cir", netlist);
  const CommandOutcome outcome = run_command("(ngspice -b " + file + " 2>/dev/null)");
  std::map<std::string, Complex> voltages;
  std::istringstream lines(outcome.output);
  for (std::string line; std::getline(lines, line);) {
    const std::size_t equals = line.find(" = ");
    const std::size_t comma = line.find(',');
    const bool is_node = line.size() > 1 && line[0] == 'n' && line[1] >= '0' && line[1] <= '9';
    if (equals == std::string::npos || comma == std::string::npos || !is_node) continue;
    voltages[line.substr(0, equals)] = {std::stod(line.substr(equals + 3)),
                                        std::stod(line.substr(comma + 1))};
  }
  INFO(outcome.output.substr(0, 2000));
  REQUIRE(voltages.size() > 10);
  return voltages;
}

/// A sample with what it does not say put in, so that there is a figure for everything.
site::Site completed(const std::string& name) {
  site::Site site = site_from(text_of(source_folder() + "/samples/" + name + "/" + name + ".yaml"));
  for (site::Run& run : site.runs)
    if (run.cable && run.cable->insulation.empty()) run.cable->insulation = "PVC";
  for (site::Element& element : site.elements) {
    auto* load = std::get_if<site::LoadGroup>(&element.facts);
    const bool turns =
        load != nullptr && (load->use == site::Use::motor || load->use == site::Use::heat_pump);
    if (turns) load->power_factor = 0.85;
  }
  return site;
}

Complex plain(electrical::VoltagePhasor voltage) {
  return {voltage.re.si, voltage.im.si};
}

struct Agreement {
  int voltages = 0;
  int currents = 0;
};

/// Compares voltages of live loads, and currents of live cables that carry any.
void compare(const site::Site& site, const network::Network& network,
             const network::StateView& view, Agreement& agreement) {
  const figures::Flow flow = figures::flow(site, network, view, figures::Case::demand);
  REQUIRE(flow.why_not.empty());
  REQUIRE(flow.missing.empty());
  const auto voltages = simulate(Netlist(site, network, view).text());
  for (const std::size_t load : view.alive_loads)
    for (const Conductor c : {Conductor::l1, Conductor::l2, Conductor::l3}) {
      const std::uint32_t line = network.node(load, 0, c);
      const std::uint32_t back = network.node(load, 0, Conductor::n);
      if (line == network::no_node) continue;
      const Complex theirs =
          voltages.at(node(load, 0, c)) - voltages.at(node(load, 0, Conductor::n));
      const Complex ours = plain(flow.voltage[line]) - plain(flow.voltage[back]);
      INFO(site.elements[load].designation << " in " << view.name());
      CHECK(std::abs(ours - theirs) < 1e-4 * nominal);
      // The drop itself, too: it is what is judged.
      CHECK(nominal - std::abs(ours) ==
            Approx(nominal - std::abs(theirs)).epsilon(0.01).margin(2e-3));
      ++agreement.voltages;
    }
  for (std::size_t e = 0; e < network.edges.size(); ++e) {
    const network::Edge& edge = network.edges[e];
    if (edge.run == site::none || !site.runs[edge.run].cable) continue;
    const site::Run& run = site.runs[edge.run];
    const double ours = electrical::magnitude(flow.current[e]).si;
    if (ours < 0.1) continue;
    const Complex z(resistance_of(*run.cable), reactance_of(*run.cable));
    const Complex across = voltages.at(node(run.from.element, run.from.terminal, edge.conductor)) -
                           voltages.at(node(run.to.element, run.to.terminal, edge.conductor));
    INFO(run.designation << " " << site::mark(edge.conductor) << " in " << view.name());
    CHECK(ours == Approx(std::abs(across / z)).epsilon(0.01));
    ++agreement.currents;
  }
}

}  // namespace

TEST_CASE("figures: a circuit simulator agrees on every sample in every state") {
  const std::string name = GENERATE("tarn-house", "terrace", "clinic", "farm");
  const site::Site site = completed(name);
  const network::Network network = network::build(site);
  Agreement agreement;
  for (const site::State& state : site.states) {
    const network::StateView view = network::view(network, site, state);
    if (!view.alive_loads.empty()) compare(site, network, view, agreement);
  }
  INFO(name);
  CHECK(agreement.voltages > 20);
  CHECK(agreement.currents > 20);
}

}  // namespace linewright::tests
