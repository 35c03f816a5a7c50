#include "support/random_site.hpp"

#include <random>
#include <string>
#include <utility>

namespace linewright::tests {
namespace {

using site::Conductor;
using site::Conductors;

constexpr Conductors all{Conductor::l1, Conductor::n, Conductor::pe};

class Maker {
 public:
  explicit Maker(unsigned seed) : random_(seed) {}

  site::Site make() {
    const std::size_t bars = 2 + below(2);
    for (std::size_t b = 0; b < bars; ++b)
      bars_.push_back(add("-WB", site::Busbar{}, {"bar"}));
    add_supply();
    if (chance(60)) add_generator();
    if (chance(60)) add_inverter();
    const std::size_t devices = 1 + below(2);
    for (std::size_t d = 0; d < devices; ++d)
      add_device();
    if (chance(50)) add_bond();
    if (chance(20)) add_split_bars();
    const std::size_t loads = 1 + below(2);
    for (std::size_t l = 0; l < loads; ++l)
      add_load();
    if (chance(40)) add_interlock();
    if (chance(25) && sources_.size() > 1)
      site_.synchronising_sets.push_back({.sources = {sources_[0], sources_.back()}});
    const std::size_t states = 1 + below(2);
    for (std::size_t s = 0; s < states; ++s)
      add_state(s);
    return std::move(site_);
  }

 private:
  std::size_t below(std::size_t n) { return random_() % n; }
  bool chance(unsigned percent) { return random_() % 100 < percent; }
  site::Terminal bar() { return {bars_[below(bars_.size())], 0}; }

  std::size_t add(const std::string& letter, site::Facts facts,
                  std::vector<std::string> terminals) {
    site_.elements.push_back({.designation = letter + std::to_string(site_.elements.size()),
                              .facts = std::move(facts),
                              .conductors = all,
                              .terminals = std::move(terminals)});
    return site_.elements.size() - 1;
  }

  void join(site::Terminal from, site::Terminal to, Conductors conductors = all) {
    site_.runs.push_back({.from = from, .to = to, .conductors = conductors});
  }

  std::size_t add_switch(site::DeviceKind kind, bool neutral, bool rcd) {
    site::Device device{.kind = kind,
                        .poles = site::Poles{1, neutral, neutral ? "2P" : "1P"},
                        .rest = chance(30) ? "open" : "closed"};
    if (chance(30)) device.operation = site::Operation::controller;
    if (rcd) device.residual = site::Residual{};
    const std::size_t e = add(rcd ? "-F" : "-Q", device, {"1", "2"});
    moved_.push_back(e);
    return e;
  }

  /// A source's terminal to a bar, sometimes through a switch.
  void lead(site::Terminal from) {
    if (!chance(60) || moved_.size() > 3) return join(from, bar());
    const std::size_t q = add_switch(site::DeviceKind::switch_disconnector, chance(70), chance(15));
    join(from, {q, 0});
    join({q, 1}, bar());
  }

  void add_supply() {
    site::Supply supply;
    supply.earthing = chance(60) ? site::Earthing::tn_s : site::Earthing::tt;
    sources_.push_back(add("-X", supply, {"out"}));
    lead({sources_.back(), 0});
    if (chance(50)) {
      const std::size_t rod = add("-XE", site::Electrode{}, {"pe"});
      join({rod, 0}, bar(), {Conductor::pe});
    }
  }

  void add_generator() {
    site::Generator generator;
    generator.neutral = chance(60) ? site::NeutralLink::fixed : site::NeutralLink::none;
    sources_.push_back(add("-G", generator, {"out"}));
    lead({sources_.back(), 0});
  }

  void add_inverter() {
    site::Inverter inverter;
    inverter.has_backup_side = chance(50);
    inverter.forming = site::Forming::grid_forming;
    inverter.island_neutral =
        chance(70) ? site::IslandNeutral::opened : site::IslandNeutral::joined;
    inverter.bond = chance(60) ? site::BondContact::closes_in_island : site::BondContact::absent;
    if (chance(80)) inverter.bond_rests_closed = chance(30);
    const bool two = inverter.has_backup_side;
    sources_.push_back(
        add("-T", inverter,
            two ? std::vector<std::string>{"ac", "backup"} : std::vector<std::string>{"ac"}));
    lead({sources_.back(), 0});
    if (two) lead({sources_.back(), 1});
    if (!two && !moved_.empty() && chance(40))
      std::get<site::Inverter>(site_.elements[sources_.back()].facts).synchronises_at = {
          moved_[below(moved_.size())]};
  }

  void add_device() {
    if (!chance(45)) {
      const std::size_t q = add_switch(site::DeviceKind::switch_disconnector, chance(70), false);
      join(bar(), {q, 0});
      join({q, 1}, bar());
      return;
    }
    site::Device device{
        .kind = site::DeviceKind::changeover,
        .poles = site::Poles{1, chance(70), ""},
        .rest = "0",
        .operation = chance(50) ? site::Operation::hand : site::Operation::controller};
    device.throws = {{"I", "I"}, {"0", ""}, {"II", "II"}};
    const std::size_t q = add("-Q", device, {"common", "I", "II"});
    moved_.push_back(q);
    for (const std::size_t t : {0U, 1U, 2U})
      join({q, t}, bar());
  }

  void add_bond() {
    site::Bond bond;
    bond.contact = chance(60);
    if (bond.contact) {
      if (chance(80)) bond.rest = chance(30) ? "closed" : "open";
      if (chance(80))
        bond.proved_by = {moved_.empty() ? sources_[0] : moved_[below(moved_.size())]};
      if (chance(50)) bond.driven_by = site_.elements[sources_.back()].designation;
    }
    const std::size_t x = add("-X", bond, {"at"});
    join({x, 0}, bar());
  }

  /// Two bars of the same neutral and earth whose lines are apart.
  void add_split_bars() {
    join({bars_[0], 0}, {bars_[1], 0},
         chance(50) ? Conductors{Conductor::n, Conductor::pe} : Conductors{Conductor::pe});
  }

  void add_load() {
    const std::size_t load = add("-E", site::LoadGroup{}, {"in"});
    loads_.push_back(load);
    if (!chance(60)) return join(bar(), {load, 0});
    const std::size_t f = add_switch(site::DeviceKind::rcbo, chance(80), true);
    join(bar(), {f, 0});
    join({f, 1}, {load, 0});
  }

  site::PositionOf any_position() {
    const std::size_t e = moved_[below(moved_.size())];
    const auto& device = std::get<site::Device>(site_.elements[e].facts);
    if (device.kind == site::DeviceKind::changeover)
      return {.element = e, .position = chance(50) ? "I" : "II"};
    return {.element = e, .position = "closed"};
  }

  void add_interlock() {
    if (moved_.size() < 2) return;
    site::Interlock lock{.means = chance(60) ? site::InterlockMeans::mechanical
                                             : site::InterlockMeans::electrical};
    lock.never_together = {any_position(), any_position()};
    site_.interlocks.push_back(std::move(lock));
  }

  void add_state(std::size_t number) {
    site::State state{.name = "state " + std::to_string(number)};
    for (const std::size_t source : sources_)
      if (chance(50)) state.running.push_back(source);
    for (const std::size_t e : moved_)
      if (chance(50)) {
        state.positions.push_back(any_position());
        state.positions.back().element = e;
        const auto& device = std::get<site::Device>(site_.elements[e].facts);
        const bool changes = device.kind == site::DeviceKind::changeover;
        state.positions.back().position =
            changes ? (chance(50) ? "I" : "II") : (chance(50) ? "open" : "closed");
      }
    site_.states.push_back(std::move(state));
  }

  std::mt19937 random_;
  site::Site site_;
  std::vector<std::size_t> bars_;
  std::vector<std::size_t> sources_;
  std::vector<std::size_t> moved_;
  std::vector<std::size_t> loads_;
};

Conductors some_lines(std::mt19937& random, unsigned percent_all) {
  if (random() % 100 < percent_all) return site::lines;
  const auto bits = 1 + random() % 6;
  Conductors some;
  unsigned bit = 1;
  for (const Conductor line : {Conductor::l1, Conductor::l2, Conductor::l3}) {
    if ((bits & bit) != 0) some.add(line);
    bit *= 2;
  }
  return some;
}

}  // namespace

site::Site random_site(unsigned seed) {
  return Maker(seed).make();
}

site::Site random_site_of_three_lines(unsigned seed) {
  site::Site site = random_site(seed);
  std::mt19937 random(seed);
  for (site::Element& element : site.elements) {
    if (!element.conductors.has(Conductor::l1)) continue;
    element.conductors = element.conductors | site::lines;
    if (site::facts<site::Busbar>(element) == nullptr)
      element.conductors = (element.conductors - site::lines) | some_lines(random, 75);
    if (auto* device = std::get_if<site::Device>(&element.facts))
      device->poles->line_poles = random() % 100 < 85 ? 3 : 2;
  }
  for (site::Run& run : site.runs) {
    if (!run.conductors.has(Conductor::l1)) continue;
    run.conductors = (run.conductors - site::lines) | some_lines(random, 90);
    run.conductors = run.conductors & site.elements[run.from.element].conductors &
                     site.elements[run.to.element].conductors;
  }
  return site;
}

}  // namespace linewright::tests
