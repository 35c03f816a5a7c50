#include "network/proof.hpp"

#include <algorithm>

#include "network/questions.hpp"

namespace linewright::network {
namespace {

/// Situations looked at one by one for one subject before the search gives up and says so.
constexpr int most_tries = 1000;
/// Departures counted exactly; a hazard farther away is shown with as few as reverting finds.
constexpr std::size_t most_departures = 8;

bool is_about(const Hazard& hazard, const Hazard& like) {
  return hazard.kind == like.kind && (like.sources.empty() || hazard.sources == like.sources) &&
         (like.load == site::none || hazard.load == like.load);
}

/// Decides the targets of one question.
class Decider {
 public:
  Decider(const Network& network, const site::Site& site, const HazardScope& scope,
          const Movement& movement, Question& question, HazardVerdict& verdict)
      : network_(network),
        site_(site),
        scope_(scope),
        movement_(movement),
        question_(question),
        encoding_(question.encoding),
        clauses_(question.encoding.clauses()),
        verdict_(verdict) {}

  void run() {
    if (question_.targets.empty()) return;
    std::vector<Literal> all;
    for (const Target& target : question_.targets)
      all.push_back(target.assumed);
    const Literal any = clauses_.any_of(all);
    if (impossible(any)) return;
    for (const Target& target : question_.targets)
      decide(target);
    if (verdict_.refutations.empty() && verdict_.undecided.empty() && !verdict_.cut_short)
      impossible(any);
  }

 private:
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

  /// Whether no situation has it; then notes the interlocks that keep it so, the strong ones alone
  /// if they are enough.
  bool impossible(Literal target) {
    for (const bool weak_too : {false, true}) {
      if (clauses_.solve(assume(target, weak_too))) continue;
      for (std::size_t b = 0; b < movement_.barriers.size(); ++b)
        if ((weak_too || is_strong(b)) && clauses_.needed(encoding_.barriers()[b]))
          rest_on(movement_.barriers[b].interlock);
      return true;
    }
    return false;
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

  // First with everything that the file does not say standing so that what is found is sure; only
  // if nothing is, for what may be.
  void decide(const Target& target) {
    tries_ = 0;
    std::vector<Literal> assumed = assume(target.assumed, true);
    if (!clauses_.solve(assumed)) return;
    perhaps_.reset();
    assumed.push_back(sure());
    if (decide(target, assumed, true)) return;
    assumed.pop_back();
    if (!given_up() && perhaps_) {
      verdict_.undecided.push_back(std::move(*perhaps_));
      return;
    }
    if (given_up() || (!decide(target, assumed, false) && given_up())) verdict_.cut_short = true;
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

  bool given_up() const { return tries_ >= most_tries; }

  /// Looks for a situation that has the hazard; every one found is replayed. One that the replay
  /// does not show is ruled out; in the first round also one that hangs on what is not known, which
  /// is remembered.
  bool search(const Target& target, const std::vector<Literal>& assumed, std::size_t start,
              bool surely) {
    while (!given_up() && clauses_.solve(assumed)) {
      const Situation situation = encoding_.found();
      const bool stays =
          forbidden_by(movement_, situation) == site::none && lasts(network_, movement_, situation);
      for (Hazard& hazard : hazards_in(network_, site_, situation, scope_)) {
        if (!stays || !is_about(hazard, target.like)) continue;
        if (surely && !hazard.sure) {
          if (!perhaps_) perhaps_ = tell(std::move(hazard), situation, start);
          continue;
        }
        auto& told = hazard.sure ? verdict_.refutations : verdict_.undecided;
        told.push_back(tell(std::move(hazard), situation, start));
        return true;
      }
      ++tries_;
      encoding_.rule_out(situation, question_.matters);
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
    ask(HazardKind::sources_joined, ask_sources_joined(network_, site_, movement_));
    ask(HazardKind::dead_supply_fed, ask_dead_supply_fed(network_, site_, movement_));
    ask(HazardKind::neutral_without_bond,
        ask_neutral_without_bond(network_, site_, movement_, scope_));
    ask(HazardKind::neutral_bonded_twice,
        ask_neutral_bonded_twice(network_, site_, movement_, scope_));
    ask_loads();
    ask(HazardKind::unsupported_load_alive,
        ask_unsupported_load(network_, site_, movement_, scope_));
    return std::move(verdicts_);
  }

 private:
  void ask(HazardKind kind, const QuestionPointer& question) {
    HazardVerdict verdict{.kind = kind};
    if (!question->targets.empty()) {
      Decider(network_, site_, scope_, movement_, *question, verdict).run();
      settle(verdict);
    }
    verdicts_.push_back(std::move(verdict));
  }

  void ask_loads() {
    HazardVerdict verdict{.kind = HazardKind::load_without_rcd};
    for (const LoadAsked& asked : loads_to_ask(network_, site_, scope_.loads_with_rcd)) {
      const QuestionPointer question = ask_load_without_rcd(network_, site_, movement_, asked);
      Decider(network_, site_, scope_, movement_, *question, verdict).run();
    }
    if (!scope_.loads_with_rcd.empty()) settle(verdict);
    verdict.left_out = scope_.loads_left_out;
    const bool all_asked = verdict.left_out.empty() || verdict.outcome == Outcome::refuted;
    if (!all_asked) verdict.outcome = Outcome::open;
    verdicts_.push_back(std::move(verdict));
  }

  static void settle(HazardVerdict& verdict) {
    if (!verdict.refutations.empty())
      verdict.outcome = Outcome::refuted;
    else if (!verdict.undecided.empty() || verdict.cut_short)
      verdict.outcome = Outcome::open;
    else
      verdict.outcome = Outcome::proved;
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

}  // namespace

Certificate prove(const Network& network, const site::Site& site, const HazardScope& scope) {
  return prove(network, site, scope, movement_of(network, site));
}

Certificate prove(const Network& network, const site::Site& site, const HazardScope& scope,
                  const Movement& movement) {
  return {.movement = movement,
          .situations = count_situations(movement, network.sources.size()),
          .verdicts = Prover(network, site, scope, movement).run()};
}

}  // namespace linewright::network
