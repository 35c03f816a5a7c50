// How long the proof takes on sites that are harder for it than rows of cells: boards one behind
// the other with hybrid inverters in three phases, and rings under one key. Prints processor time
// and what came of each hazard; asserts nothing, since machines differ.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdio>
#include <ctime>
#include <string>
#include <utility>
#include <vector>

#include <fmt/core.h>

#include "network/proof.hpp"

namespace linewright {
namespace {

using site::Conductor;
using site::Conductors;

constexpr Conductors all{Conductor::l1, Conductor::l2, Conductor::l3, Conductor::n, Conductor::pe};

/// What is done to the sites: sound, or one interlock left out.
enum class Locks { complete, one_missing };

/// Builds sites of a given number of switching devices.
class Maker {
 public:
  explicit Maker(std::size_t devices) : wanted_(devices) {}

  /// Boards one behind the other; each has a changeover to a generator of its own, a bypass that
  /// is locked against it, and circuits with an RCD; every fourth one a hybrid inverter.
  site::Site cascade(Locks locks) {
    std::size_t bar = supplied_bar();
    for (std::size_t cell = 0; devices_ < wanted_; ++cell)
      bar = add_cell(bar, cell, locks == Locks::one_missing && cell == 0);
    add_states();
    return std::move(site_);
  }

  /// Sections in a ring, each fed by a supply or a generator of its own through a locked switch:
  /// a key set lets at most one of the sources in.
  site::Site ring(Locks locks) {
    const std::size_t sections = std::max<std::size_t>(2, wanted_ / 4);
    std::vector<std::size_t> bars;
    site::Interlock keys{.means = site::InterlockMeans::key};
    for (std::size_t s = 0; s < sections; ++s) {
      bars.push_back(add("-WB", site::Busbar{}, {"bar"}));
      const std::size_t source = s == 0 ? supply() : generator();
      const std::size_t q = in_series({source, 0}, {bars[s], 0}, switch_of("open"));
      if (s != 1 || locks == Locks::complete)
        keys.never_together.push_back({.element = q, .position = "closed"});
      add_circuit(bars[s]);
      add_circuit(bars[s]);
    }
    for (std::size_t s = 0; s < sections; ++s)
      in_series({bars[s], 0}, {bars[(s + 1) % sections], 0}, switch_of("closed"));
    site_.interlocks.push_back(std::move(keys));
    site_.states.push_back({.name = "grid", .running = {sources_[0]}});
    return std::move(site_);
  }

 private:
  std::size_t add(const std::string& letter, site::Facts facts,
                  std::vector<std::string> terminals) {
    site_.elements.push_back({.designation = letter + std::to_string(site_.elements.size()),
                              .facts = std::move(facts),
                              .conductors = all,
                              .terminals = std::move(terminals)});
    return site_.elements.size() - 1;
  }

  void join(site::Terminal from, site::Terminal to) {
    site_.runs.push_back({.from = from, .to = to, .conductors = all});
  }

  static site::Device switch_of(const char* rest) {
    return {.kind = site::DeviceKind::switch_disconnector,
            .poles = site::Poles{3, true, "4P"},
            .rest = rest,
            .operation = site::Operation::hand};
  }

  std::size_t in_series(site::Terminal from, site::Terminal to, site::Device device) {
    const std::size_t q = add("-Q", std::move(device), {"1", "2"});
    ++devices_;
    join(from, {q, 0});
    join({q, 1}, to);
    return q;
  }

  std::size_t supply() {
    site::Supply facts;
    facts.earthing = site::Earthing::tn_s;
    sources_.push_back(add("-X", facts, {"out"}));
    return sources_.back();
  }

  std::size_t generator() {
    site::Generator facts;
    facts.neutral = site::NeutralLink::fixed;
    sources_.push_back(add("-G", facts, {"out"}));
    return sources_.back();
  }

  std::size_t supplied_bar() {
    const std::size_t bar = add("-WB", site::Busbar{}, {"bar"});
    in_series({supply(), 0}, {bar, 0}, switch_of("closed"));
    return bar;
  }

  void add_circuit(std::size_t bar) {
    const std::size_t load = add("-E", site::LoadGroup{}, {"in"});
    site::Device rcbo = switch_of("closed");
    rcbo.kind = site::DeviceKind::rcbo;
    rcbo.residual = site::Residual{};
    in_series({bar, 0}, {load, 0}, std::move(rcbo));
  }

  std::size_t add_cell(std::size_t from, std::size_t number, bool bare) {
    const std::size_t bar = add("-WB", site::Busbar{}, {"bar"});
    site::Device device = switch_of("0");
    device.kind = site::DeviceKind::changeover;
    device.break_before_make = true;
    device.throws = {{"I", "I"}, {"0", ""}, {"II", "II"}};
    const std::size_t q = add("-Q", device, {"common", "I", "II"});
    ++devices_;
    changeovers_.push_back(q);
    join({q, 0}, {bar, 0});
    in_series({from, 0}, {q, 1}, switch_of("closed"));
    in_series({generator(), 0}, {q, 2}, switch_of("closed"));
    const std::size_t bypass = in_series({from, 0}, {bar, 0}, switch_of("open"));
    if (!bare)
      site_.interlocks.push_back({.means = site::InterlockMeans::mechanical,
                                  .never_together = {{.element = q, .position = "II"},
                                                     {.element = bypass, .position = "closed"}}});
    if (number % 4 == 0) add_inverter(bar);
    add_circuit(bar);
    add_circuit(bar);
    return bar;
  }

  void add_inverter(std::size_t bar) {
    site::Inverter facts;
    facts.has_backup_side = true;
    facts.forming = site::Forming::grid_forming;
    facts.island_neutral = site::IslandNeutral::opened;
    facts.bond = site::BondContact::closes_in_island;
    facts.bond_rests_closed = false;
    const std::size_t t = add("-T", facts, {"ac", "backup"});
    inverters_.push_back(t);
    in_series({bar, 0}, {t, 0}, switch_of("closed"));
    const std::size_t backed = add("-WB", site::Busbar{}, {"bar"});
    in_series({t, 1}, {backed, 0}, switch_of("closed"));
    add_circuit(backed);
  }

  void add_states() {
    site::State grid{.name = "grid", .running = {sources_[0]}};
    site::State island{.name = "island"};
    for (const std::size_t t : inverters_) {
      grid.running.push_back(t);
      island.running.push_back(t);
    }
    for (const std::size_t q : changeovers_)
      grid.positions.push_back({.element = q, .position = "I"});
    site_.states = {std::move(grid), std::move(island)};
  }

  std::size_t wanted_;
  std::size_t devices_ = 0;
  site::Site site_;
  std::vector<std::size_t> sources_;
  std::vector<std::size_t> inverters_;
  std::vector<std::size_t> changeovers_;
};

/// Every circuit needs an RCD, and any will do.
network::HazardScope scope_of(const site::Site& site) {
  std::vector<std::size_t> rcds;
  for (std::size_t e = 0; e < site.elements.size(); ++e)
    if (const auto* device = site::facts<site::Device>(site.elements[e]))
      if (device->residual) rcds.push_back(e);
  const auto accepted = std::make_shared<const std::vector<std::size_t>>(std::move(rcds));
  network::HazardScope scope;
  for (std::size_t e = 0; e < site.elements.size(); ++e)
    if (site::facts<site::LoadGroup>(site.elements[e]) != nullptr)
      scope.loads_with_rcd.push_back({e, accepted});
  return scope;
}

std::string outcomes(const network::Certificate& certificate) {
  std::string letters;
  for (const network::HazardVerdict& verdict : certificate.verdicts)
    letters += "PRO-"[static_cast<int>(verdict.outcome)];
  return letters;
}

struct Sample {
  double devices = 0;
  double seconds = 0;
};

Sample measure(const char* family, const site::Site& site) {
  const network::Network network = network::build(site);
  const network::HazardScope scope = scope_of(site);
  const auto devices = std::ranges::count_if(site.elements, [](const site::Element& it) {
    return site::facts<site::Device>(it) != nullptr;
  });
  double best = 1e9;
  std::string letters;
  for (int run = 0; run < 3; ++run) {
    const std::clock_t start = std::clock();
    letters = outcomes(network::prove(network, site, scope));
    best = std::min(best, static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
  }
  fmt::print("{:<28}{:>8}{:>9}{:>12.2f}  {}\n", family, devices, network.sources.size(), best * 1e3,
             letters);
  return {static_cast<double>(devices), best};
}

/// Least squares of log time over log size, from 32 devices on: below that fixed costs count.
double exponent(const std::vector<Sample>& samples) {
  double n = 0;
  double x = 0;
  double y = 0;
  double xx = 0;
  double xy = 0;
  for (const Sample& it : samples) {
    if (it.devices < 32) continue;
    const double a = std::log(it.devices);
    const double b = std::log(it.seconds);
    n += 1;
    x += a;
    y += b;
    xx += a * a;
    xy += a * b;
  }
  return (n * xy - x * y) / (n * xx - x * x);
}

void grow(const char* family, site::Site (Maker::*make)(Locks), Locks locks) {
  std::vector<Sample> samples;
  for (const std::size_t devices : {8U, 16U, 32U, 80U, 160U, 320U, 500U})
    samples.push_back(measure(family, (Maker(devices).*make)(locks)));
  fmt::print("{:<28}time grows with the {:.1f}th power of the devices\n\n", family,
             exponent(samples));
}

}  // namespace
}  // namespace linewright

int main() {
  std::setvbuf(stdout, nullptr, _IOLBF, 0);
  using namespace linewright;
  fmt::print("{:<28}{:>8}{:>9}{:>12}  {}\n", "family", "devices", "sources", "ms", "outcome");
  fmt::print("outcome, a letter each hazard: P proved, R refuted, O open, - not relevant\n\n");
  grow("cascade", &Maker::cascade, Locks::complete);
  grow("cascade, one lock missing", &Maker::cascade, Locks::one_missing);
  grow("ring", &Maker::ring, Locks::complete);
  grow("ring, one lock missing", &Maker::ring, Locks::one_missing);
  return 0;
}
