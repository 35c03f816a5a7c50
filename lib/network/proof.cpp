#include "network/proof.hpp"

#include <algorithm>
#include <functional>
#include <iterator>
#include <utility>

#include "network/cascade.hpp"
#include "network/questions.hpp"

namespace linewright::network {
namespace {

/// Departures counted exactly; a hazard farther away is shown with as few as reverting finds.
constexpr std::size_t most_departures = 8;

bool is_about(const Hazard& hazard, const Hazard& like) {
  return hazard.kind == like.kind && (like.sources.empty() || hazard.sources == like.sources) &&
         (like.load == site::none || hazard.load == like.load);
}

/// Which contacts follow what they watch, and how many situations are looked at one by one for one
/// target before the search gives up.
enum class Watch { none, own, all };
struct Level {
  Watch watch = Watch::all;
  int most_tries = 1000;
};

/// Whether the source has contacts that follow what they watch.
bool watches(const Network& network, const Movement& movement, std::size_t element) {
  for (std::size_t s = 0; s < network.switches.size(); ++s)
    if (network.switches[s].element == element && movement.of[s].mover == Mover::law) return true;
  return std::ranges::any_of(movement.supervised, [&](const Supervised& it) {
    return network.sources[it.source].element == element;
  });
}

/// Decides targets of one question.
class Decider {
 public:
  Decider(const Network& network, const site::Site& site, const HazardScope& scope,
          const Movement& movement, Question& question, Level level, HazardVerdict& verdict)
      : network_(network),
        site_(site),
        scope_(scope),
        movement_(movement),
        question_(question),
        encoding_(question.encoding),
        clauses_(question.encoding.clauses()),
        level_(level),
        verdict_(verdict) {}

  /// Decides those targets; returns the ones that it gave up on.
  std::vector<std::size_t> run(const std::vector<std::size_t>& targets) {
    std::vector<std::size_t> impossible = targets;
    std::vector<std::size_t> given_up_on;
    for (const std::size_t t : possible(targets)) {
      const Target& target = question_.targets[t];
      const Found found = waits(target) ? Found::too_much : decide(target);
      if (found == Found::nothing) continue;
      std::erase(impossible, t);
      if (found == Found::too_much) given_up_on.push_back(t);
    }
    note_interlocks(impossible);
    return given_up_on;
  }

 private:
  /// Whether what is possible now says little, since contacts of its own sources stand anywhere.
  bool waits(const Target& target) const {
    if (level_.most_tries == 0) return true;
    return level_.watch == Watch::none &&
           std::ranges::any_of(target.like.sources, [&](std::size_t source) {
             return watches(network_, movement_, source);
           });
  }

  bool is_strong(std::size_t barrier) const {
    const auto means = site_.interlocks[movement_.barriers[barrier].interlock].means;
    return means == site::InterlockMeans::mechanical || means == site::InterlockMeans::key;
  }

  std::vector<Literal> assume(Literal target, bool weak_too) const {
    std::vector<Literal> literals{target};
    for (std::size_t b = 0; b < movement_.barriers.size(); ++b)
      if (weak_too || is_strong(b)) literals.push_back(encoding_.barriers()[b]);
    return literals;
  }

  /// Those targets that some situation may have.
  std::vector<std::size_t> possible(const std::vector<std::size_t>& targets) {
    std::vector<std::size_t> found;
    std::vector<Literal> assumed = assume(any_of(targets), true);
    while (clauses_.solve(assumed)) {
      const std::size_t before = found.size();
      for (const std::size_t t : targets)
        if (clauses_.holds(question_.targets[t].assumed)) found.push_back(t);
      for (std::size_t f = before; f < found.size(); ++f)
        assumed.push_back(-question_.targets[found[f]].assumed);
    }
    std::ranges::sort(found);
    return found;
  }

  Literal any_of(const std::vector<std::size_t>& targets) {
    std::vector<Literal> literals;
    for (const std::size_t t : targets)
      literals.push_back(question_.targets[t].assumed);
    return clauses_.any_of(literals);
  }

  /// Notes the interlocks that keep these from being, the strong ones alone if they are enough.
  void note_interlocks(const std::vector<std::size_t>& impossible) {
    if (impossible.empty()) return;
    const Literal any = any_of(impossible);
    for (const bool weak_too : {false, true}) {
      if (clauses_.solve(assume(any, weak_too))) continue;
      for (std::size_t b = 0; b < movement_.barriers.size(); ++b)
        if ((weak_too || is_strong(b)) && clauses_.needed(encoding_.barriers()[b]))
          rest_on(movement_.barriers[b].interlock);
      return;
    }
  }

  void rest_on(std::size_t interlock) {
    if (std::ranges::count(verdict_.rests_on, interlock) == 0)
      verdict_.rests_on.push_back(interlock);
  }

  /// What a named state, or the site at rest where there is none, gives as a start.
  std::vector<Situation> starts() const {
    std::vector<Situation> named;
    for (const site::State& state : site_.states)
      named.push_back(situation_of(network_, site_, state));
    if (named.empty()) {
      Situation rest;
      for (const Switch& it : network_.switches)
        rest.positions.of.push_back(it.rest);
      rest.running.assign(network_.sources.size(), false);
      named.push_back(std::move(rest));
    }
    return named;
  }

  const std::vector<std::vector<Literal>>& counters() {
    if (!counters_.empty()) return counters_;
    starts_ = starts();
    for (const Situation& start : starts_)
      counters_.push_back(clauses_.more_than(encoding_.departures(start), most_departures));
    return counters_;
  }

  enum class Found { nothing, something, too_much };

  // First with everything that the file does not say standing so that what is found is sure; only
  // if nothing is, for what may be.
  Found decide(const Target& target) {
    tries_ = 0;
    perhaps_.reset();
    std::vector<Literal> assumed = assume(target.assumed, true);
    assumed.push_back(sure());
    if (decide(target, assumed, true)) return Found::something;
    if (given_up()) return Found::too_much;
    assumed.pop_back();
    if (perhaps_) {
      verdict_.undecided.push_back(std::move(*perhaps_));
      return Found::something;
    }
    if (decide(target, assumed, false)) return Found::something;
    return given_up() ? Found::too_much : Found::nothing;
  }

  Literal sure() {
    if (sure_ == 0)
      sure_ =
          encoding_.sure(question_.targets.front().like.kind == HazardKind::neutral_without_bond);
    return sure_;
  }

  bool decide(const Target& target, const std::vector<Literal>& assumed, bool surely) {
    if (!clauses_.solve(assumed)) return false;
    for (std::size_t k = 0; k <= most_departures; ++k)
      for (std::size_t start = 0; start < counters().size(); ++start) {
        std::vector<Literal> near = assumed;
        near.push_back(-counters()[start][k]);
        if (search(target, near, start, surely)) return true;
        if (given_up()) return false;
      }
    return search(target, assumed, 0, surely);
  }

  bool given_up() const { return tries_ >= level_.most_tries; }

  /// Whether the replay of a situation shows the target's hazard, which then is told. In the first
  /// round one that hangs on what is not known is remembered only.
  bool shows(const Target& target, const Situation& situation, std::size_t start, bool surely) {
    for (Hazard& hazard : hazards_in(network_, site_, situation, scope_, target.like.kind)) {
      if (!is_about(hazard, target.like)) continue;
      if (surely && !hazard.sure) {
        if (!perhaps_) perhaps_ = tell(std::move(hazard), situation, start);
        continue;
      }
      auto& told = hazard.sure ? verdict_.refutations : verdict_.undecided;
      told.push_back(tell(std::move(hazard), situation, start));
      return true;
    }
    return false;
  }

  /// Looks for a situation that has the hazard; every one found is replayed, and ruled out if the
  /// replay does not show it.
  bool search(const Target& target, const std::vector<Literal>& assumed, std::size_t start,
              bool surely) {
    while (!given_up() && clauses_.solve(assumed)) {
      const Situation situation = encoding_.found();
      const bool stays =
          forbidden_by(movement_, situation) == site::none && lasts(network_, movement_, situation);
      if (stays && shows(target, situation, start, surely)) return true;
      ++tries_;
      // What lasts may still have the hazard of another target. What does not last may do so with
      // other switches elsewhere: only itself is ruled out, and for all.
      if (stays)
        encoding_.rule_out(situation, question_.matters, target.assumed);
      else
        encoding_.rule_out(situation, {}, clauses_.always());
    }
    return false;
  }

  Refutation tell(Hazard hazard, const Situation& situation, std::size_t start) {
    Refutation refutation{.hazard = std::move(hazard), .situation = situation, .nearest = start};
    if (site_.states.empty()) refutation.nearest = site::none;
    refutation.moves = moves_between(network_, movement_, starts_[start], situation);
    refutation.path = path_of(network_, site_, situation, refutation.hazard);
    return refutation;
  }

  const Network& network_;
  const site::Site& site_;
  const HazardScope& scope_;
  const Movement& movement_;
  Question& question_;
  Encoding& encoding_;
  Clauses& clauses_;
  Level level_;
  HazardVerdict& verdict_;
  std::vector<Situation> starts_;
  std::vector<std::vector<Literal>> counters_;  ///< by start and number of departures
  Literal sure_ = 0;
  std::optional<Refutation> perhaps_;
  int tries_ = 0;
};

class Prover {
 public:
  Prover(const Network& network, const site::Site& site, const HazardScope& scope,
         const Movement& movement)
      : network_(network), site_(site), scope_(scope), movement_(movement) {}

  std::vector<HazardVerdict> run() {
    ask(HazardKind::sources_joined,
        [&](const Laws& laws) { return ask_sources_joined(network_, site_, movement_, laws); });
    ask(HazardKind::dead_supply_fed,
        [&](const Laws& laws) { return ask_dead_supply_fed(network_, site_, movement_, laws); });
    ask(HazardKind::neutral_without_bond, [&](const Laws& laws) {
      return ask_neutral_without_bond(network_, site_, movement_, scope_, laws);
    });
    ask(HazardKind::neutral_bonded_twice, [&](const Laws& laws) {
      return ask_neutral_bonded_twice(network_, site_, movement_, scope_, laws);
    });
    ask_loads();
    ask(HazardKind::unsupported_load_alive, [&](const Laws& laws) {
      return ask_unsupported_load(network_, site_, movement_, scope_, laws);
    });
    return std::move(verdicts_);
  }

 private:
  using Ask = std::function<QuestionPointer(const Laws&)>;

  void ask(HazardKind kind, const Ask& make) {
    HazardVerdict verdict{.kind = kind};
    const bool asked = decide(make, verdict);
    put_in_order(verdict);
    // A source that runs unearthed for single items is not asked about, whatever else it feeds.
    if (kind == HazardKind::neutral_without_bond) verdict.exempt = scope_.without_bond_for_items;
    verdict.outcome = outcome_of(verdict, asked);
    verdicts_.push_back(std::move(verdict));
  }

  /// Decides a question, first with contacts free that watch other sources: that takes far fewer
  /// clauses, and what is impossible then is impossible. What a replay has shown is so whatever
  /// the clauses leave out, and the fewest departures among more situations are the fewest. Returns
  /// false if there is nothing to ask.
  bool decide(const Ask& make, HazardVerdict& verdict) {
    std::vector<std::size_t> left;
    bool first = true;
    for (const Level level : {Level{Watch::none, 20}, Level{Watch::own, few_watch() ? 0 : 50},
                              Level{Watch::all, 1000}}) {
      if (!first && left.empty()) break;
      if (level.watch == Watch::own && left.size() > network_.sources.size()) continue;
      if (level.watch != Watch::own) {
        const QuestionPointer question = make({.of_all = level.watch == Watch::all, .of = {}});
        if (question->targets.empty()) return false;
        for (std::size_t t = 0; first && t < question->targets.size(); ++t)
          left.push_back(t);
        left = decide(*question, left, level, verdict);
      } else {
        left = decide_one_by_one(make, left, level, verdict);
      }
      first = false;
    }
    if (!left.empty()) verdict.cut_short = true;
    return true;
  }

  /// Whether binding all contacts that watch costs less than looking at many situations one by one
  /// that they forbid.
  bool few_watch() const {
    constexpr std::size_t few = 8;
    const auto laws = std::ranges::count(movement_.of, Mover::law, &Freedom::mover);
    return static_cast<std::size_t>(laws) + movement_.supervised.size() <= few;
  }

  std::vector<std::size_t> decide(Question& question, const std::vector<std::size_t>& targets,
                                  const Level& level, HazardVerdict& verdict) {
    return Decider(network_, site_, scope_, movement_, question, level, verdict).run(targets);
  }

  /// Each target with the contacts of its own sources bound.
  std::vector<std::size_t> decide_one_by_one(const Ask& make,
                                             const std::vector<std::size_t>& targets,
                                             const Level& level, HazardVerdict& verdict) {
    std::vector<std::size_t> left;
    QuestionPointer question = make({.of_all = false, .of = {}});
    for (const std::size_t t : targets) {
      const std::vector<std::size_t> own = question->targets[t].like.sources;
      if (own.empty()) {
        left.push_back(t);
        continue;
      }
      question = make({.of_all = false, .of = own});
      std::ranges::copy(decide(*question, {t}, level, verdict), std::back_inserter(left));
    }
    return left;
  }

  void ask_loads() {
    HazardVerdict verdict{.kind = HazardKind::load_without_rcd};
    for (const LoadAsked& asked : loads_to_ask(network_, scope_.loads_with_rcd))
      decide(
          [&](const Laws& laws) {
            return ask_load_without_rcd(network_, site_, movement_, asked, laws);
          },
          verdict);
    put_in_order(verdict);
    verdict.left_out = scope_.loads_left_out;
    verdict.never_fed = scope_.loads_never_fed;
    verdict.exempt = scope_.without_bond_for_items;
    verdict.outcome = outcome_of(verdict, !scope_.loads_with_rcd.empty());
    verdicts_.push_back(std::move(verdict));
  }

  static void put_in_order(HazardVerdict& verdict) {
    std::ranges::sort(verdict.rests_on);
    std::ranges::stable_sort(verdict.refutations, {},
                             [](const Refutation& refutation) { return refutation.moves.size(); });
  }

  const Network& network_;
  const site::Site& site_;
  const HazardScope& scope_;
  const Movement& movement_;
  std::vector<HazardVerdict> verdicts_;
};

/// A joint of neutral and earth that may stand behind an RCD blinds it: where it is not known
/// whether a second one is there, it is not known whether every RCD sees its fault. The question
/// of the RCDs follows joints that are there for sure.
void leave_rcds_open(std::vector<HazardVerdict>& verdicts) {
  const auto of = [&](HazardKind kind) {
    return std::ranges::find(verdicts, kind, &HazardVerdict::kind);
  };
  const auto twice = of(HazardKind::neutral_bonded_twice);
  const auto rcds = of(HazardKind::load_without_rcd);
  if (twice == verdicts.end() || rcds == verdicts.end() || twice->undecided.empty()) return;
  if (rcds->outcome != Outcome::proved) return;
  rcds->undecided = twice->undecided;
  rcds->outcome = outcome_of(*rcds, true);
  rcds->rests_on.clear();
}

}  // namespace

Outcome outcome_of(const HazardVerdict& verdict, bool asked) {
  if (!verdict.refutations.empty()) return Outcome::refuted;
  if (!verdict.undecided.empty() || verdict.cut_short || !verdict.left_out.empty() ||
      !verdict.never_fed.empty() || !verdict.exempt.empty() || !verdict.not_followed.empty())
    return Outcome::open;
  return asked ? Outcome::proved : Outcome::not_relevant;
}

std::vector<std::size_t> transformers_of(const site::Site& site) {
  std::vector<std::size_t> transformers;
  for (std::size_t e = 0; e < site.elements.size(); ++e)
    if (site::facts<site::Transformer>(site.elements[e]) != nullptr) transformers.push_back(e);
  return transformers;
}

std::vector<std::size_t> not_followed(const Network& network, const site::Site& site) {
  std::vector<std::size_t> elements = transformers_of(site);
  const std::vector<std::size_t> inverters = inverters_behind_inverters(network, site);
  elements.insert(elements.end(), inverters.begin(), inverters.end());
  return elements;
}

Certificate prove(const Network& network, const site::Site& site, const HazardScope& scope) {
  return prove(network, site, scope, movement_of(network, site));
}

Certificate prove(const Network& network, const site::Site& site, const HazardScope& scope,
                  const Movement& movement) {
  Certificate certificate{.movement = movement,
                          .situations = count_situations(movement, network.sources.size()),
                          .verdicts = Prover(network, site, scope, movement).run()};
  leave_rcds_open(certificate.verdicts);
  const std::vector<std::size_t> unfollowed = not_followed(network, site);
  if (unfollowed.empty()) return certificate;
  for (HazardVerdict& verdict : certificate.verdicts) {
    verdict.not_followed = unfollowed;
    verdict.outcome = outcome_of(verdict, verdict.outcome != Outcome::not_relevant);
  }
  return certificate;
}

}  // namespace linewright::network
