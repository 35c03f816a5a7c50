// Speaks of positions that no state names: the proof over everything that the interlocks allow.
// What a named state itself shows is left to the rules on named states, and two sources that can
// meet out of step, or the supply that can be fed while it is dead, to interlock-by-construction
// and no-backfeed-to-dead-grid wherever those have said it.
#include <algorithm>
#include <map>
#include <set>

#include <fmt/core.h>

#include "check/later.hpp"
#include "check/meeting.hpp"
#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "network/hazard_words.hpp"
#include "network/proof.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::HazardKind;
using network::HazardVerdict;
using network::Outcome;
using network::Refutation;

std::string mend(HazardKind kind) {
  switch (kind) {
    case HazardKind::sources_joined:
    case HazardKind::dead_supply_fed:
      return "keep these positions apart by an interlock ('interlocks'), or use one changeover";
    case HazardKind::neutral_without_bond:
      return "join neutral and earth where this source still reaches when the others are off: on "
             "the common busbar, or with a contact of its own";
    case HazardKind::neutral_bonded_twice:
      return "have the second joint held open by a contact of what joins the neutrals ('proved "
             "by'), or by an interlock";
    case HazardKind::load_without_rcd:
      return "fit an RCD in the circuit itself, behind every way that feeds it";
    case HazardKind::unsupported_load_alive:
      return "keep these positions apart by an interlock, or call the circuit 'backup'";
  }
  return {};
}

std::string_view short_words(HazardKind kind) {
  switch (kind) {
    case HazardKind::sources_joined:
      return "sources meet out of step";
    case HazardKind::dead_supply_fed:
      return "the dead supply is fed";
    case HazardKind::neutral_without_bond:
      return "no neutral-earth joint";
    case HazardKind::neutral_bonded_twice:
      return "two neutral-earth joints";
    case HazardKind::load_without_rcd:
      return "no RCD sees a fault";
    case HazardKind::unsupported_load_alive:
      return "alive in an outage";
  }
  return {};
}

/// The element that the user has to look at: what has to be moved, else the source.
std::size_t subject(const AnalysedSite& site, const Refutation& refutation) {
  for (const network::Move& move : refutation.moves)
    if (move.kind == network::Move::Kind::put)
      return site.network.switches[static_cast<std::size_t>(move.by)].element;
  return refutation.hazard.sources.front();
}

/// Refutations that the same moves bring about: one cause, one finding.
struct Cause {
  const Refutation* first = nullptr;
  std::vector<std::string> about;
};

std::vector<Cause> causes(const AnalysedSite& site, const std::vector<Refutation>& refutations) {
  std::vector<Cause> found;
  for (const Refutation& refutation : refutations) {
    auto same = std::ranges::find_if(found, [&](const Cause& cause) {
      return subject(site, *cause.first) == subject(site, refutation);
    });
    if (same == found.end()) same = found.insert(found.end(), {&refutation, {}});
    same->about.push_back(network::subject_words(site.site, refutation.hazard));
  }
  return found;
}

std::string list(const std::vector<std::string>& items) {
  std::string text;
  for (std::size_t i = 0; i < items.size(); ++i)
    text += (i == 0 ? "" : "; ") + items[i];
  return text;
}

Verdict reached(const AnalysedSite& site, HazardKind kind, const Cause& cause) {
  Verdict verdict =
      broken(site.about(subject(site, *cause.first)),
             fmt::format("{}: {} ({})", network::way_words(site.network, site.site, *cause.first),
                         short_words(kind), list(cause.about)),
             mend(kind));
  for (const network::Move& move : cause.first->moves) {
    if (move.kind != network::Move::Kind::put) continue;
    const std::size_t element = site.network.switches[static_cast<std::size_t>(move.by)].element;
    verdict.notes.push_back(
        {site.element(element).where, network::words_of(site.network, site.site, move)});
  }
  return verdict;
}

/// Whether a set of inverters leaves open if their contacts transfer together.
const site::SynchronisingSet* undeclared_set(const AnalysedSite& site) {
  for (const site::SynchronisingSet& set : site.site.synchronising_sets) {
    const auto contacts = std::ranges::count_if(set.sources, [&](std::size_t source) {
      return site.network.find_switch(source, "transfer") >= 0;
    });
    if (!set.transfer_together && contacts > 1) return &set;
  }
  return nullptr;
}

class Judge {
 public:
  explicit Judge(const AnalysedSite& site) : site_(site), scope_(check::scope_of(site)) {}

  std::vector<Verdict> run() {
    const network::Certificate& certificate = check::certificate_of(site_);
    for (const network::StateView& state : site_.states)
      for (const std::size_t source : joined_sources(state.positions))
        joined_in_states_.insert(source);
    const bool any = std::ranges::any_of(
        certificate.verdicts, [](const HazardVerdict& it) { return !it.refutations.empty(); });
    if (any && undeclared_set(site_) != nullptr) prove_together();
    for (const HazardVerdict& verdict : certificate.verdicts)
      judge(verdict);
    if (verdicts_.empty()) verdicts_.push_back(holds({}));
    return std::move(verdicts_);
  }

 private:
  /// The same site with its sets declared to transfer together.
  void prove_together() {
    site::Site together = site_.site;
    for (site::SynchronisingSet& set : together.synchronising_sets)
      if (!set.transfer_together) set.transfer_together = true;
    const network::Network network = network::build(together);
    for (HazardVerdict& verdict : network::prove(network, together, scope_).verdicts)
      together_[verdict.kind] = std::move(verdict.refutations);
  }

  /// Whether it is gone once the inverters are known to transfer together.
  bool hangs_on_set(const Refutation& refutation) const {
    const auto found = together_.find(refutation.hazard.kind);
    if (found == together_.end()) return false;
    return std::ranges::none_of(found->second, [&](const Refutation& other) {
      return network::same_subject(other.hazard, refutation.hazard);
    });
  }

  void judge(const HazardVerdict& verdict) {
    // What a named state shows is told by the rules on named states, and comes first. Where the
    // state itself does not show it, two of its entries contradict each other.
    if (std::ranges::any_of(verdict.refutations,
                            [&](const Refutation& it) { return shown_in_state(it); }))
      return;
    ask_for_unasked(verdict);
    std::vector<Refutation> sure;
    bool hangs = false;
    for (const Refutation& refutation : verdict.refutations) {
      if (refutation.moves.empty()) {
        sure.push_back(refutation);
        continue;
      }
      if (hangs_on_set(refutation))
        hangs = true;
      else if (!told_elsewhere(refutation))
        sure.push_back(refutation);
    }
    for (const Cause& cause : causes(site_, sure))
      verdicts_.push_back(reached(site_, verdict.kind, cause));
    if (hangs) ask_for_set(verdict.kind);
    for (const Refutation& refutation : verdict.undecided)
      if (!refutation.moves.empty()) ask(verdict.kind, refutation);
    if (verdict.cut_short)
      verdicts_.push_back(
          open({}, fmt::format("whether {} can be reached", network::words_of(verdict.kind)),
               "interlocks that leave fewer positions"));
  }

  /// Whether no move is needed and the named state, as the file has it, shows the hazard as well.
  bool shown_in_state(const Refutation& refutation) const {
    if (!refutation.moves.empty()) return false;
    return std::ranges::any_of(site_.states, [&](const network::StateView& state) {
      const auto as_named = network::situation_of(site_.network, site_.site, *state.state);
      const auto hazards = network::hazards_in(site_.network, site_.site, as_named, scope_);
      return std::ranges::any_of(hazards, [&](const network::Hazard& it) {
        return network::same_subject(it, refutation.hazard);
      });
    });
  }

  /// What the proof could not ask.
  void ask_for_unasked(const HazardVerdict& verdict) {
    for (const std::size_t load : verdict.never_fed)
      verdicts_.push_back(
          open(site_.about(load),
               fmt::format("which RCD sees a fault of '{}', which no named state feeds",
                           check::circuit_name(site_, load)),
               "a state that feeds it ('states')"));
    for (const std::size_t source : verdict.exempt)
      verdicts_.push_back(open(
          site_.about(source),
          fmt::format("whether {} can be reached over {}, which runs unearthed for single items "
                      "but can feed other circuits",
                      network::words_of(verdict.kind), check::quoted(site_, source)),
          "a lock or interlock that keeps it to these items"));
  }

  /// Positions that join two sources, whether they run or not, are interlock-by-construction's:
  /// what else is wrong there has the same cause.
  bool told_elsewhere(const Refutation& refutation) {
    if (refutation.hazard.kind == HazardKind::dead_supply_fed && one_move_away(refutation))
      return true;
    if (joining_is_told(refutation.situation.positions)) return true;
    return std::ranges::any_of(refutation.hazard.sources, [&](std::size_t source) {
      return joined_in_states_.contains(source);
    });
  }

  /// Whether one move from a named state without supply brings it about: no-backfeed-to-dead-grid
  /// has looked at these.
  bool one_move_away(const Refutation& refutation) const {
    const network::Movement movement = network::movement_of(site_.network, site_.site);
    return std::ranges::any_of(site_.states, [&](const network::StateView& state) {
      if (state.supply_runs || !check::runs(state, refutation.hazard.sources.front())) return false;
      const auto from = network::situation_of(site_.network, site_.site, *state.state);
      return network::moves_between(site_.network, movement, from, refutation.situation).size() < 2;
    });
  }

  /// Whether sources would meet in these positions, and interlock-by-construction has looked at all
  /// ways in which they can: what it could not look at to the end it has not told.
  bool joining_is_told(const network::Positions& positions) {
    const std::vector<std::size_t> joined = joined_sources(positions);
    for (std::size_t i = 0; i + 1 < joined.size(); i += 2)
      if (looked_at_all_ways(joined[i], joined[i + 1])) return true;
    return false;
  }

  bool looked_at_all_ways(std::size_t element_a, std::size_t element_b) {
    const auto key = std::minmax(element_a, element_b);
    const auto known = all_ways_.find(key);
    if (known != all_ways_.end()) return known->second;
    const check::SourcePair pair{network::source_of(site_.network, element_a),
                                 network::source_of(site_.network, element_b)};
    const bool complete =
        network::ways_to_join(site_.network, network::line_nodes(site_.network, pair.a),
                              network::line_nodes(site_.network, pair.b),
                              check::treatment_of(site_, pair))
            .complete;
    all_ways_.emplace(key, complete);
    return complete;
  }

  /// Sources that would meet out of step in these positions if all of them ran, in pairs.
  std::vector<std::size_t> joined_sources(const network::Positions& positions) const {
    const network::Situation all_run{
        .positions = positions, .running = std::vector<bool>(site_.network.sources.size(), true)};
    std::vector<std::size_t> joined;
    for (const auto& hazard : network::hazards_in(site_.network, site_.site, all_run, {}))
      if (hazard.kind == HazardKind::sources_joined)
        joined.insert(joined.end(), hazard.sources.begin(), hazard.sources.end());
    return joined;
  }

  void ask_for_set(HazardKind kind) {
    const site::SynchronisingSet& set = *undeclared_set(site_);
    Verdict verdict =
        open(site_.about(set.sources.front()),
             fmt::format("whether {} can be reached when one inverter of {} loses the grid alone",
                         network::words_of(kind), check::quoted(site_, set.sources)),
             "'transfer together' of this set under 'synchronised'");
    verdicts_.push_back(std::move(verdict));
  }

  void ask(HazardKind kind, const Refutation& refutation) {
    std::vector<std::size_t> unknown;
    for (const network::Edge& edge : site_.network.edges)
      if (edge.element != site::none && std::ranges::count(unknown, edge.element) == 0 &&
          network::closed(edge, refutation.situation.positions) == network::Closed::undecided)
        unknown.push_back(edge.element);
    verdicts_.push_back(
        open(site_.about(subject(site_, refutation)),
             fmt::format("whether {} is reached in {}", network::words_of(kind),
                         network::way_words(site_.network, site_.site, refutation)),
             fmt::format("where {} stands then ('rest', 'proved by', 'bond' or 'poles')",
                         check::quoted(site_, unknown))));
  }

  const AnalysedSite& site_;
  const network::HazardScope& scope_;
  std::map<HazardKind, std::vector<Refutation>> together_;
  std::set<std::size_t> joined_in_states_;  ///< sources that would meet in a named state
  std::map<std::pair<std::size_t, std::size_t>, bool> all_ways_;  ///< by two elements
  std::vector<Verdict> verdicts_;
};

std::vector<Verdict> check_site(const AnalysedSite& site) {
  return Judge(site).run();
}

}  // namespace

extern const check::Rule every_combination_is_safe{
    .id = "transfer/every-combination-is-safe",
    .severity = Severity::danger,
    .must_hold =
        "In every position that hands and controllers can bring about and no interlock "
        "forbids, neutral and earth are joined once, and every circuit keeps its RCD.",
    .why = "Two correct changeovers in series can make one wrong combination.",
    .clauses = {"IEC 60364-5-55 551.6"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {"rcd limit"},
    .yields_to = {"earthing/generator-through-the-inverter",
                  "earthing/bond-at-the-first-common-point", "earthing/bond-follows-grid-contactor",
                  "earthing/bond-present-when-islanded", "earthing/bond-relay-rest-position",
                  "earthing/bond-upstream-of-every-rcd", "earthing/generator-with-common-neutral",
                  "earthing/neutral-poles-of-the-transfer",
                  "earthing/no-local-bond-on-tt-while-on-grid",
                  "earthing/no-second-bond-while-on-grid", "earthing/one-neutral-bond-per-state",
                  "rcd/between-source-and-load-in-every-state", "rcd/bypass-path-keeps-rcd",
                  "transfer/bypass-all-inverters-together"},
    .example = R"(# A hand can close a tie that leads around the RCD of a board.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P isolating lockable]}
  +A3:
    feed: [A1, -F10 RCD 63 A 2P 30 mA type A, -W4 3×10 mm² 5 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 2P 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
chains:
  - [A1, -Q7 switch-disconnector 63 A 2P normally open, -W5 3×10 mm² 5 m, A3]
)",
    .check = check_site,
};

}  // namespace linewright::rules
