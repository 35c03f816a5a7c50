// Speaks of inverters that follow the voltage of an island: whether the island can hold them back
// and take what they give. Charging is held against their whole power: the least load is not
// counted on.
#include <algorithm>
#include <optional>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rule.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;
using network::Zone;

const site::Inverter* inverter_of(const AnalysedSite& site, std::size_t element) {
  return site::facts<site::Inverter>(site.element(element));
}

/// Batteries on the direct-current side of an inverter.
std::vector<std::size_t> batteries_of(const AnalysedSite& site, std::size_t inverter) {
  const std::size_t port = site.site.find_terminal(inverter, "battery");
  if (port == site::none) return {};
  std::vector<std::uint32_t> next{site.network.node(inverter, port, site::Conductor::dc_plus)};
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < next.size(); ++i) {
    if (next[i] == network::no_node) continue;
    const std::size_t at = site.network.nodes[next[i]].element;
    if (site::facts<site::Battery>(site.element(at)) != nullptr) found.push_back(at);
    for (const network::Edge& edge : site.network.edges) {
      if (edge.a != next[i] && edge.b != next[i]) continue;
      const std::uint32_t other = edge.a == next[i] ? edge.b : edge.a;
      if (std::ranges::count(next, other) == 0) next.push_back(other);
    }
  }
  return found;
}

class Judge {
 public:
  Judge(const AnalysedSite& site, const StateView& state, const Zone& zone)
      : site_(site), state_(state), zone_(zone) {}

  std::vector<Verdict> run() {
    for (const std::size_t follower : zone_.following)
      judge_control(follower);
    judge_power();
    if (verdicts_.empty()) verdicts_.push_back(holds(subject(zone_.sources.front())));
    return std::move(verdicts_);
  }

 private:
  Subject subject(std::size_t element) const { return site_.about(element, &state_); }
  void ask(std::size_t element, std::string_view what, std::string_view key) {
    verdicts_.push_back(open(subject(element), std::string(what),
                             fmt::format("'{}' of '{}'", key, site_.name(element))));
  }

  void judge_control(std::size_t follower) {
    const std::string& name = site_.name(follower);
    const auto& given = inverter_of(site_, follower)->frequency_watt;
    if (!given)
      return ask(follower, fmt::format("whether '{}' can be held back in island", name),
                 "frequency watt");
    if (!*given)
      verdicts_.push_back(broken(subject(follower),
                                 fmt::format("nothing holds '{}' back in island", name),
                                 "fit an inverter that lowers its power when the frequency rises, "
                                 "or part it in island"));
  }

  /// The sum over elements, or none after asking for what is missing.
  std::optional<ApparentPower> sum(const std::vector<std::size_t>& elements, bool limit) {
    ApparentPower total{};
    bool complete = true;
    for (const std::size_t e : elements) {
      const site::Inverter* inverter = inverter_of(site_, e);
      const auto value = limit && inverter->ac_coupled ? inverter->ac_coupled : inverter->power;
      if (value)
        total = total + *value;
      else
        ask(e, "whether the island can take what follows it", "power");
      complete = complete && value.has_value();
    }
    return complete ? std::optional<ApparentPower>(total) : std::nullopt;
  }

  void judge_power() {
    const auto given = sum(zone_.following, false);
    const auto taken = sum(zone_.sources, true);
    if (!given || !taken) return;
    const std::size_t first = zone_.sources.front();
    if (*given > *taken)
      verdicts_.push_back(
          broken(subject(first),
                 fmt::format("{} follow {}, which can take {}", print_rounded(*given, 3),
                             check::quoted(site_, zone_.sources), print_rounded(*taken, 3)),
                 "part some of them in island, or form it with more"));
    judge_charging(*given);
  }

  void judge_charging(ApparentPower given) {
    double charge = 0.0;
    for (const std::size_t source : zone_.sources)
      for (const std::size_t b : batteries_of(site_, source)) {
        const auto* battery = site::facts<site::Battery>(site_.element(b));
        const auto voltage = battery->voltage_min ? battery->voltage_min : battery->nominal_voltage;
        if (!battery->charge_current)
          return ask(b, "whether the batteries can take the surplus", "charge current");
        if (!voltage) return ask(b, "whether the batteries can take the surplus", "voltage");
        charge += battery->charge_current->si * voltage->si;
      }
    const ActivePower most{charge};
    if (given.base > most.base)
      verdicts_.push_back(
          broken(subject(zone_.sources.front()),
                 fmt::format("batteries take {}, {} can be fed back", print_rounded(most, 3),
                             print_rounded(given, 3)),
                 "part some of the inverters in island, or fit batteries that charge faster"));
  }

  const AnalysedSite& site_;
  const StateView& state_;
  const Zone& zone_;
  std::vector<Verdict> verdicts_;
};

bool is_island_of_inverters(const AnalysedSite& site, const Zone& zone) {
  return !zone.following.empty() && !zone.sources.empty() &&
         std::ranges::all_of(zone.sources, [&](std::size_t source) {
           return inverter_of(site, source) != nullptr;
         });
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const StateView& state : site.states)
    for (const Zone& zone : state.zones) {
      if (!is_island_of_inverters(site, zone)) continue;
      for (Verdict& verdict : Judge(site, state, zone).run())
        verdicts.push_back(std::move(verdict));
    }
  if (verdicts.empty()) verdicts.push_back(not_relevant({}));
  return verdicts;
}

}  // namespace

extern const check::Rule ac_coupled_source_in_island{
    .id = "transfer/ac-coupled-source-in-island",
    .severity = Severity::danger,
    .must_hold =
        "Inverters that follow an island lower their power when its frequency rises, and the "
        "island "
        "can take all they give.",
    .why = "What nobody takes drives the voltage of the island, or of its battery, over the limit.",
    .clauses = {"IEC 60364-8-82", "EN 50549-1 (over-frequency response)"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {},
    .example = R"(# The roof gives more than the island inverter can take.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1:
    kind: hybrid
    backup side: yes
    power: 5 kVA
    neutral in island: opened
    bond: closes in island
    bond rest: open
    battery: {id: -GB1, voltage: 50 V, charge current: 200 A}
  -T2: {kind: pv, power: 6 kVA, frequency watt: yes, bond: none}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3: {feed: [-T1:backup, -W4 3×10 mm² 5 m]}
chains:
  - [A1, -F21 C32 2P, -T1:ac]
  - [-T2:ac, -W5 3×4 mm² 8 m, -F5 C32 2P, A3]
states:
  grid: {}
  island: {running: [-T1, -T2]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
