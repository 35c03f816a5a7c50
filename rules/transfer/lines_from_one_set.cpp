// Speaks of loads and busbars with several lines in a named state: whether sources on different
// lines are held in step. Sources that meet on one line are left to no-unsynchronised-paralleling;
// a source that is on both lines, such as the supply that inverters follow, holds them in step.
#include <algorithm>
#include <optional>
#include <set>

#include <fmt/core.h>

#include "check/meeting.hpp"
#include "check/naming.hpp"
#include "check/rule.hpp"
#include "network/joining.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;

/// Two sources on different lines of one thing that nothing holds in step; indices into sources.
struct Apart {
  std::size_t a = 0;
  std::size_t b = 0;
};

class Judge {
 public:
  Judge(const AnalysedSite& site, const StateView& state) : site_(site), state_(state) {}

  Verdict run() {
    bool any = false;
    std::optional<Verdict> undecided;
    for (std::size_t e = 0; e < site_.site.elements.size(); ++e) {
      const auto lines = lines_of(e);
      if (lines.size() < 2) continue;
      any = true;
      const std::optional<Apart> sure = apart(lines, false);
      const std::optional<Apart> possible = apart(lines, true);
      if (sure && possible) return told(e, *sure);
      if ((sure || possible) && !undecided) undecided = not_known(e, possible ? *possible : *sure);
    }
    if (undecided) return *undecided;
    return any ? holds(site_.about(state_)) : not_relevant(site_.about(state_));
  }

 private:
  /// Line nodes of a load or a busbar.
  std::vector<std::uint32_t> lines_of(std::size_t element) const {
    const site::Element& it = site_.element(element);
    if (site::facts<site::LoadGroup>(it) == nullptr && site::facts<site::Busbar>(it) == nullptr)
      return {};
    return network::line_nodes(site_.network, element, 0);
  }

  /// Running sources that form a voltage on a line.
  std::set<std::size_t> on(std::uint32_t line, bool possibly) const {
    std::set<std::size_t> found;
    const auto& sources = site_.network.sources;
    for (std::size_t s = 0; s < sources.size(); ++s) {
      if (!sources[s].forming || !check::runs(state_, sources[s].element)) continue;
      const auto from = network::line_nodes(site_.network, s);
      if (possibly ? network::any_possibly_joined(state_, from, {line})
                   : network::any_joined(state_, from, {line}))
        found.insert(s);
    }
    return found;
  }

  std::optional<Apart> apart(const std::vector<std::uint32_t>& lines, bool possibly) const {
    for (std::size_t i = 0; i < lines.size(); ++i)
      for (std::size_t j = i + 1; j < lines.size(); ++j)
        if (const auto found = apart(on(lines[i], possibly), on(lines[j], possibly))) return found;
    return std::nullopt;
  }

  std::optional<Apart> apart(const std::set<std::size_t>& some,
                             const std::set<std::size_t>& others) const {
    if (std::ranges::any_of(some, [&](std::size_t s) { return others.contains(s); }))
      return std::nullopt;
    const auto& sources = site_.network.sources;
    for (const std::size_t a : some)
      for (const std::size_t b : others)
        if (sources[a].set < 0 || sources[a].set != sources[b].set) return Apart{a, b};
    return std::nullopt;
  }

  std::string name(std::size_t source) const {
    return check::quoted(site_, site_.network.sources[source].element);
  }

  Verdict told(std::size_t element, Apart found) const {
    Verdict verdict =
        broken(site_.about(site_.network.sources[found.b].element, &state_),
               fmt::format("{} and {} feed different lines of '{}', and nothing holds them in step",
                           name(found.a), name(found.b), site_.name(element)),
               "use sources that form one three-phase set and name it ('synchronised'), or feed "
               "single-phase circuits from each alone");
    verdict.notes.push_back({site_.element(element).where, "its lines come from both"});
    return verdict;
  }

  Verdict not_known(std::size_t element, Apart found) const {
    return open(site_.about(site_.network.sources[found.b].element, &state_),
                fmt::format("whether {} and {} feed different lines of '{}' out of step",
                            name(found.a), name(found.b), site_.name(element)),
                fmt::format("the position of {} in this state",
                            check::quoted(site_, check::undecided_elements(site_, state_))));
  }

  const AnalysedSite& site_;
  const StateView& state_;
};

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const StateView& state : site.states)
    verdicts.push_back(Judge(site, state).run());
  return verdicts;
}

}  // namespace

extern const check::Rule lines_from_one_set{
    .id = "transfer/lines-from-one-set",
    .severity = Severity::danger,
    .must_hold =
        "The lines of a load or a busbar come from one source, or from sources that are held in "
        "step with each other.",
    .why =
        "Lines out of step turn no motor: the angle between them drifts, motors burn, up to twice "
        "the phase voltage stands between lines, and the neutral carries the sum of the currents.",
    .clauses = {"common practice, no source"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {},
    .example =
        R"(# Three single-phase inverters, a line each of one busbar, that nothing holds in step.
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
earthing:
  electrodes: {-XE1: 20 ohm}
  links:
    -X5: {at: -WB2, size: 16 mm²}
inverters:
  -T1: {kind: battery, grid: forming, power: 5 kVA, phase: L1, bond: none, waveform: sine}
  -T2: {kind: battery, grid: forming, power: 5 kVA, phase: L2, bond: none, waveform: sine}
  -T3: {kind: battery, grid: forming, power: 5 kVA, phase: L3, bond: none, waveform: sine}
busbars: {-WB2: 63 A}
boards:
  +A1: {feed: [supply, -W1 5×16 mm² 3 m, -Q1 switch-disconnector 63 A 4P isolating lockable]}
  +A4:
    earth: 16 mm²
    feed: [-WB2, -W4 5×10 mm² 5 m, -Q4 switch-disconnector 63 A 4P]
    circuits:
      - {id: -F1, name: Pump, device: C16 4P 30 mA type A 6 kA, cable: 5×2.5 mm² 20 m, use: motor, load: 4 kW}
chains:
  - [-T1:ac, -F21 C32 2P, -W21 3×6 mm² 3 m, -WB2]
  - [-T2:ac, -F22 C32 2P, -W22 3×6 mm² 3 m, -WB2]
  - [-T3:ac, -F23 C32 2P, -W23 3×6 mm² 3 m, -WB2]
states:
  grid: {running: [supply]}
  island: {running: [-T1, -T2, -T3]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
