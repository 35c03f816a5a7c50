// Speaks of a line of the supply that a local source keeps alive while the supply does not run: in
// each named state, and after any one move of a hand-operated device from it that no interlock
// forbids. Moves that join the supply to a source out of step are left to
// interlock-by-construction, so that one mistake is told once; a neutral alone is left to
// all-live-conductors-isolated-from-grid. The product of all positions is not looked over here.
#include <algorithm>
#include <set>

#include <fmt/core.h>

#include "check/meeting.hpp"
#include "check/naming.hpp"
#include "check/rule.hpp"
#include "network/cascade.hpp"
#include "network/joining.hpp"
#include "network/proof.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::Positions;
using network::StateView;
using network::SwitchAt;

/// Who can move a device by hand; a device of which nobody says otherwise can be.
bool by_hand(const AnalysedSite& site, const network::Switch& it) {
  const auto* device = site::facts<site::Device>(site.element(it.element));
  return device != nullptr && it.part.empty() && !site::closed_by_controller_only(*device);
}

std::vector<SwitchAt> as_list(const Positions& positions) {
  std::vector<SwitchAt> list;
  for (std::size_t s = 0; s < positions.of.size(); ++s)
    if (positions.of[s] != network::unknown) list.push_back({static_cast<int>(s), positions.of[s]});
  return list;
}

/// Whether a local source runs in one set with the supply, so that it keeps step wherever they
/// meet.
bool kept_in_step(const AnalysedSite& site, std::size_t supply) {
  const int set = site.network.sources[supply].set;
  return std::ranges::any_of(site.network.sources, [&](const network::SourcePoint& source) {
    return !source.utility && set >= 0 && source.set == set;
  });
}

class Judge {
 public:
  Judge(const AnalysedSite& site, const StateView& state, std::size_t supply)
      : site_(site), state_(state), supply_(supply) {}

  std::vector<Verdict> run() {
    if (!any_running()) return {not_relevant(site_.about(state_))};
    std::vector<std::size_t> feeding;
    for (const network::Backfeed& feed : state_.backfeeds)
      if (feed.lines) feeding.push_back(feed.source);
    if (!feeding.empty()) return {tell(feeding)};
    look_for_undecided();
    if (kept_in_step(site_, supply_)) look_one_move_on();
    if (verdicts_.empty()) verdicts_.push_back(holds(site_.about(state_)));
    return std::move(verdicts_);
  }

 private:
  bool running(std::size_t source) const {
    const network::SourcePoint& it = site_.network.sources[source];
    return it.forming && !it.utility && check::runs(state_, it.element);
  }

  bool any_running() const {
    for (std::size_t s = 0; s < site_.network.sources.size(); ++s)
      if (running(s)) return true;
    return false;
  }

  Verdict tell(const std::vector<std::size_t>& feeding) const {
    Verdict verdict =
        broken(site_.about(feeding.front(), &state_),
               fmt::format("{} {} the dead supply, must be cut off", check::quoted(site_, feeding),
                           feeding.size() == 1 ? "feeds" : "feed"),
               "open all live conductors towards the supply before this source starts");
    verdict.notes.push_back({site_.element(site_.network.sources[supply_].element).where,
                             "the supply is joined and does not run"});
    return verdict;
  }

  void look_for_undecided() {
    for (std::size_t s = 0; s < site_.network.sources.size(); ++s) {
      const bool perhaps =
          network::any_possibly_joined(state_, network::line_nodes(site_.network, s),
                                       network::line_nodes(site_.network, supply_));
      if (!perhaps || !running(s)) continue;
      verdicts_.push_back(
          open(site_.about(site_.network.sources[s].element, &state_),
               fmt::format("whether '{}' can feed the dead supply",
                           site_.name(site_.network.sources[s].element)),
               fmt::format("the position of {} in this state",
                           check::quoted(site_, check::undecided_elements(site_, state_)))));
    }
  }

  // Contacts that a controller closes in step open by themselves when the voltage is gone, so a
  // move matters only where a hand can join what else keeps step: see by_hand and kept_in_step.
  void look_one_move_on() {
    for (std::size_t m = 0; m < site_.network.switches.size(); ++m) {
      const network::Switch& moved = site_.network.switches[m];
      if (!by_hand(site_, moved)) continue;
      for (std::size_t p = 0; p < moved.positions.size(); ++p)
        if (state_.positions.of[m] != static_cast<int>(p)) judge_move(moved, p);
    }
  }

  Positions after(const network::Switch& moved, std::size_t position) const {
    site::State state = *state_.state;
    std::erase_if(state.positions, [&](const site::PositionOf& it) {
      return it.element == moved.element && it.part.empty();
    });
    state.positions.push_back({moved.element, {}, moved.positions[position], state.where});
    std::set<int> controlled;
    for (const network::SourcePoint& source : site_.network.sources)
      controlled.insert(source.synchronised_at.begin(), source.synchronised_at.end());
    return network::with_open(site_.network,
                              network::positions_of(site_.network, site_.site, state), controlled);
  }

  void judge_move(const network::Switch& moved, std::size_t position) {
    const Positions positions = after(moved, position);
    for (std::size_t s = 0; s < site_.network.sources.size(); ++s) {
      if (!running(s) || !network::lines_joined(site_.network, positions, s, supply_)) continue;
      if (!network::in_step(site_.network, positions, s, supply_)) continue;
      if (network::excluded_by(site_.network, site_.site, as_list(positions)) != nullptr) continue;
      verdicts_.push_back(broken(
          site_.about(moved.element, &state_),
          fmt::format("moving '{}' to '{}' lets '{}' feed the dead supply",
                      site_.name(moved.element), moved.positions[position],
                      site_.name(site_.network.sources[s].element)),
          "interlock it with the source, or let only the equipment that keeps step move it"));
      return;
    }
  }

  const AnalysedSite& site_;
  const StateView& state_;
  std::size_t supply_;
  std::vector<Verdict> verdicts_;
};

/// Voltage passes a transformer both ways, and what lies behind it is not followed.
void judge_transformers(const AnalysedSite& site, std::vector<Verdict>& verdicts) {
  for (const std::size_t transformer : network::transformers_of(site.site))
    verdicts.push_back(open(
        site.about(transformer),
        fmt::format("what voltage does behind '{}', which passes it both ways: it is not followed "
                    "by any rule, nor by the proof",
                    site.name(transformer)),
        fmt::format("a check of both sides of '{}' by hand: backfeed, joint of neutral and earth, "
                    "RCDs",
                    site.name(transformer))));
}

/// Nor is what an inverter passes on that another inverter passes on.
void judge_cascades(const AnalysedSite& site, std::vector<Verdict>& verdicts) {
  for (const std::size_t inverter : network::inverters_behind_inverters(site.network, site.site))
    verdicts.push_back(
        open(site.about(inverter),
             fmt::format("what '{}' does when another inverter passes the grid on to it: it is not "
                         "followed by any rule, nor by the proof",
                         site.name(inverter)),
             fmt::format(
                 "a check by hand of what '{}' feeds then: backfeed, joint of neutral and earth, "
                 "RCDs; or its grid side on the grid side of the other one",
                 site.name(inverter))));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  judge_transformers(site, verdicts);
  judge_cascades(site, verdicts);
  for (std::size_t s = 0; s < site.network.sources.size(); ++s) {
    if (!site.network.sources[s].utility) continue;
    for (const StateView& state : site.states) {
      if (state.supply_runs) {
        verdicts.push_back(not_relevant(site.about(state)));
        continue;
      }
      auto more = Judge(site, state, s).run();
      std::ranges::move(more, std::back_inserter(verdicts));
    }
  }
  return verdicts;
}

}  // namespace

extern const check::Rule no_backfeed_to_dead_grid{
    .id = "transfer/no-backfeed-to-dead-grid",
    .severity = Severity::danger,
    .must_hold =
        "While the supply is dead no local source reaches its lines, neither in a named "
        "state nor after one move of a hand-operated device from it.",
    .why =
        "It kills the people who repair the line: a street transformer run backwards makes "
        "medium voltage.",
    .clauses = {"IEC 60364-5-55 551.6", "IEC 60364-5-55 551.7.4"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(# The main switch stays closed while the generator feeds the board.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {power: 5 kVA, neutral: floating, fixed: yes}
boards:
  +A1:
    feed: [supply, -Q1 switch-disconnector 63 A 2P]
chains:
  - [-G2, -W2 3×6 mm² 9 m, -Q2 switch-disconnector 63 A 2P normally open, A1]
states:
  grid: {}
  generator: {-Q2: closed}
)",
    .check = check_site,
};

}  // namespace linewright::rules
