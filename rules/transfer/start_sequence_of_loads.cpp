// Speaks of what starts at once when inverters take over: single loads above half of their surge,
// and the sum of all that are not held back. Loads count with their diversity, at a power factor of
// 1 where none is given. Load steps on generators are not looked at.
#include <algorithm>
#include <optional>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;
using network::Zone;

bool is_motor(const site::LoadGroup& load) {
  return load.use == site::Use::motor || load.use == site::Use::heat_pump;
}

class Judge {
 public:
  Judge(const AnalysedSite& site, const StateView& state, const Zone& zone)
      : site_(site),
        state_(state),
        zone_(zone),
        subject_(site.about(zone.sources.front(), &state)) {}

  std::vector<Verdict> run() {
    const std::optional<ApparentPower> surge = surge_of_sources();
    ApparentPower total{};
    std::vector<std::size_t> together;
    for (const network::Loop& loop : state_.loops) {
      if (std::ranges::count(zone_.sources, loop.source) == 0 || seen(together, loop.load))
        continue;
      const auto& load = *site::facts<site::LoadGroup>(site_.element(loop.load));
      if (load.shed_in_island || load.starts_after) continue;
      const std::optional<ApparentPower> start = starting(loop.load, load);
      if (!start || !surge) continue;
      together.push_back(loop.load);
      total = total + *start;
      if (is_motor(load) && *start > 0.5 * *surge) tell_single(loop.load, *start, *surge);
    }
    if (surge && verdicts_.empty() && total > *surge) tell_all(together, total, *surge);
    if (verdicts_.empty()) verdicts_.push_back(holds(subject_));
    return std::move(verdicts_);
  }

 private:
  static bool seen(const std::vector<std::size_t>& loads, std::size_t load) {
    return std::ranges::count(loads, load) > 0;
  }

  void ask(std::size_t element, std::string_view what, std::string_view key) {
    verdicts_.push_back(open(site_.about(element, &state_), std::string(what),
                             fmt::format("'{}' of '{}'", key, site_.name(element))));
  }

  std::optional<ApparentPower> surge_of_sources() {
    ApparentPower total{};
    for (const std::size_t source : zone_.sources) {
      const auto& surge = site::facts<site::Inverter>(site_.element(source))->surge;
      if (!surge) {
        ask(source, "whether the loads can start together in island", "surge");
        return std::nullopt;
      }
      total = total + *surge;
    }
    return total;
  }

  std::optional<ApparentPower> starting(std::size_t element, const site::LoadGroup& load) {
    if (!load.power) {
      ask(element, "what this circuit takes when it starts", "load");
      return std::nullopt;
    }
    if (is_motor(load) && !load.start_factor && load.drive != true) {
      ask(element, "what this circuit takes when it starts", "start factor");
      return std::nullopt;
    }
    const double factor = load.start_factor.value_or(1.0) * load.diversity.value_or(1.0) /
                          load.power_factor.value_or(1.0);
    return ApparentPower{factor * load.power->base};
  }

  void tell_single(std::size_t load, ApparentPower start, ApparentPower surge) {
    verdicts_.push_back(broken(site_.about(load, &state_),
                               fmt::format("'{}' starts with {}, over half the surge of {}",
                                           check::circuit_name(site_, load),
                                           print_rounded(start, 3), print_rounded(surge, 3)),
                               "hold it back after a transfer, or start it softly"));
  }

  void tell_all(const std::vector<std::size_t>& loads, ApparentPower total, ApparentPower surge) {
    Verdict verdict =
        broken(subject_,
               fmt::format("{} start together, {} can give {}", print_rounded(total, 3),
                           check::quoted(site_, zone_.sources), print_rounded(surge, 3)),
               "hold the largest of them back for some seconds after a transfer");
    verdict.notes = check::circuit_notes(site_, loads, "starts at once");
    verdicts_.push_back(std::move(verdict));
  }

  const AnalysedSite& site_;
  const StateView& state_;
  const Zone& zone_;
  Subject subject_;
  std::vector<Verdict> verdicts_;
};

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const StateView& state : site.states)
    for (const Zone& zone : state.zones) {
      const bool inverters_only =
          !zone.sources.empty() && std::ranges::all_of(zone.sources, [&](std::size_t source) {
            return site::facts<site::Inverter>(site.element(source)) != nullptr;
          });
      const bool feeds = std::ranges::any_of(state.loops, [&](const network::Loop& loop) {
        return std::ranges::count(zone.sources, loop.source) > 0;
      });
      if (!inverters_only || !feeds) continue;
      for (Verdict& verdict : Judge(site, state, zone).run())
        verdicts.push_back(std::move(verdict));
    }
  if (verdicts.empty()) verdicts.push_back(not_relevant({}));
  return verdicts;
}

}  // namespace

extern const check::Rule start_sequence_of_loads{
    .id = "transfer/start-sequence-of-loads",
    .severity = Severity::advice,
    .must_hold = "After a transfer to inverters, what starts at once stays within their surge.",
    .why = "All compressors start together, the inverters give up, and try again.",
    .clauses = {"IEC 60364-8-82", "ISO 8528-5"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {},
    .example = R"(# The pump alone takes more than half of what the inverter can give for a moment.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, surge: 10 kVA for 5 s, neutral in island: opened, bond: closes in island, bond rest: open}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    feed: [-T1:backup, -W4 3×10 mm² 5 m]
    circuits:
      - {id: -F1, name: Pump, device: C16 1P+N 30 mA type A, cable: 3×2.5 mm² 12 m, load: 1.1 kW, use: motor, start factor: 5}
      - {id: -F2, name: Lights, device: B10 1P+N 30 mA type A, cable: 3×1.5 mm² 9 m, load: 1 kW, use: lighting}
chains:
  - [A1, -F21 C32 2P, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
