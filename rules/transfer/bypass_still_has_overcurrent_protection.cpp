// Speaks of cables and joints that carry current in a bypass state only: whether an overcurrent
// device stands between each source and them, and is not larger than a cable carries, as far as the
// file says so. Cables used in other states as well are left to the rules on cables.
#include <algorithm>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rule.hpp"
#include "check/transfer_devices.hpp"
#include "network/ways.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

// NOLINTBEGIN(bugprone-unchecked-optional-access): whoever calls has asked whether it is given.

using check::AnalysedSite;
using network::StateView;

constexpr Length longest_tap = 3.0 * unit::metre;  // IEC 60364-4-43 433.2.2, 434.2.1

/// Runs on a way to a load in any state that is no bypass.
std::vector<bool> used_otherwise(const AnalysedSite& site) {
  std::vector<bool> used(site.site.runs.size(), false);
  for (const StateView& state : site.states) {
    if (state.state->kind == site::StateKind::bypass) continue;
    for (const network::SourcePoint& source : site.network.sources) {
      if (!source.forming) continue;
      const network::WaysFrom ways(site.network, site.site, state.positions, source);
      for (const std::size_t load : state.alive_loads) {
        const network::Passage way = ways.lines_to(load, 0);
        for (const auto* runs : {&way.runs, &way.detour_runs})
          for (const std::size_t run : *runs)
            used[run] = true;
      }
    }
  }
  return used;
}

class Judge {
 public:
  Judge(const AnalysedSite& site, const StateView& state, const std::vector<bool>& used)
      : site_(site), state_(state), used_(used) {}

  std::vector<Verdict> run() {
    for (const std::size_t r : bypass_runs())
      judge(r);
    if (verdicts_.empty()) verdicts_.push_back(holds(site_.about(state_)));
    return std::move(verdicts_);
  }

 private:
  std::vector<std::size_t> bypass_runs() const {
    std::vector<std::size_t> runs;
    for (const network::SourcePoint& source : site_.network.sources) {
      if (!source.forming || std::ranges::count(state_.state->running, source.element) == 0)
        continue;
      const network::WaysFrom ways(site_.network, site_.site, state_.positions, source);
      for (const std::size_t load : state_.alive_loads)
        for (const std::size_t run : ways.lines_to(load, 0).runs)
          if (!used_[run] && std::ranges::count(runs, run) == 0) runs.push_back(run);
    }
    return runs;
  }

  void judge(std::size_t r) {
    const site::Run& run = site_.site.runs[r];
    if (!run.cable && ends_at_a_device(run)) return;
    for (const check::FeedOf& feed :
         check::feeds_of(site_, state_, run.from.element, run.from.terminal)) {
      if (feed.device == site::none)
        judge_bare(run, feed.source);
      else if (run.cable)
        judge_size(run, feed.device);
    }
  }

  bool ends_at_a_device(const site::Run& run) const {
    const auto* device = site::facts<site::Device>(site_.element(run.to.element));
    return device != nullptr && site::breaks_overcurrent(*device);
  }

  std::string name(const site::Run& run) const {
    return run.designation.empty()
               ? fmt::format("the joint from '{}'", site_.name(run.from.element))
               : fmt::format("'{}'", run.designation);
  }
  Subject about(const site::Run& run) const {
    return {run.where, run.designation.empty() ? site_.name(run.from.element) : run.designation,
            state_.name()};
  }

  /// The distributor has a fuse; where the file does not name it, it is asked for.
  void judge_bare(const site::Run& run, std::size_t source) {
    if (bare_told_) return;  // what follows has the same cause
    bare_told_ = true;
    if (site::facts<site::Supply>(site_.element(source)) != nullptr)
      return tell_once(open(about(run), fmt::format("what protects {} of the bypass", name(run)),
                            "'fuse' of the supply"));
    tell_once(broken(
        about(run), fmt::format("nothing protects {} of the bypass against overcurrent", name(run)),
        "put a breaker or fuse for its size where the bypass begins"));
  }

  void judge_size(const site::Run& run, std::size_t device) {
    const auto* facts = site::facts<site::Device>(site_.element(device));
    if (!facts->rated_current)
      return tell_once(open(about(run),
                            fmt::format("whether '{}' protects {}", site_.name(device), name(run)),
                            fmt::format("the rated current of '{}'", site_.name(device))));
    judge_rating(run, *facts->rated_current, fmt::format("'{}'", site_.name(device)));
  }

  void judge_rating(const site::Run& run, Current rated, const std::string& by) {
    const site::Cable& cable = *run.cable;
    if (!cable.carries)
      return tell_once(open(about(run), fmt::format("whether {} protects {}", by, name(run)),
                            fmt::format("'carries' of {}, in amperes as it is laid", name(run))));
    if (rated <= *cable.carries) return;
    if (cable.length && *cable.length <= longest_tap && cable.double_insulated == true) return;
    tell_once(broken(about(run),
                     fmt::format("{} carries {}, {} of {} lets more through", name(run),
                                 print(*cable.carries), by, print(rated)),
                     "put a breaker or fuse for its size where the bypass begins"));
  }

  void tell_once(Verdict verdict) {
    const bool told = std::ranges::any_of(
        verdicts_, [&](const Verdict& other) { return other.element == verdict.element; });
    if (!told) verdicts_.push_back(std::move(verdict));
  }

  const AnalysedSite& site_;
  const StateView& state_;
  const std::vector<bool>& used_;
  bool bare_told_ = false;
  std::vector<Verdict> verdicts_;
};

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const std::vector<bool> used = used_otherwise(site);
  for (const StateView& state : site.states) {
    if (state.state->kind != site::StateKind::bypass || state.zones.empty()) continue;
    for (Verdict& verdict : Judge(site, state, used).run())
      verdicts.push_back(std::move(verdict));
  }
  if (verdicts.empty()) verdicts.push_back(not_relevant({}));
  return verdicts;
}

// NOLINTEND(bugprone-unchecked-optional-access)

}  // namespace

extern const check::Rule bypass_still_has_overcurrent_protection{
    .id = "transfer/bypass-still-has-overcurrent-protection",
    .severity = Severity::danger,
    .must_hold =
        "What carries current in bypass only is protected at its source end for its own size.",
    .why =
        "The inverter's limit is gone in bypass; a thin cable tapped from a large supply burns "
        "before anything opens.",
    .clauses = {"IEC 60364-4-43 433.2, 434.2"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {},
    .example = R"(# The bypass is thinner than the fuse ahead of it allows.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 63 A gG}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island, bond rest: open}
devices:
  -Q2: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    feed: [-Q2, -W4 3×10 mm² 5 m]
    circuits:
      - {name: Lights, device: B10 1P+N 30 mA type A, cable: 3×1.5 mm² 9 m, use: lighting}
chains:
  - [A1, -F21 C32 2P, -T1:ac]
  - [-T1:backup, -F22 C32 2P, -Q2:I]
  - [A1, -W5 3×4 mm² 8 m carries 32 A, -Q2:II]
states:
  grid: {-Q2: I}
  island: {-Q2: I, running: [-T1]}
  bypass: {-Q2: II, running: [supply]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
