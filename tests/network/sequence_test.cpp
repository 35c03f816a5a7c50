// Switching sequences: every step safe and allowed by the plain evaluator, none longer than brute
// force finds, and nothing that reaches what was isolated.
#include "network/sequence.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <queue>
#include <string>

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "check/proof_scope.hpp"
#include "check/run.hpp"
#include "documents/procedure_dead.hpp"
#include "network/hazard_words.hpp"
#include "network/isolation.hpp"
#include "rules/profile_data.hpp"
#include "support/expected.hpp"
#include "support/judge.hpp"
#include "support/paths.hpp"
#include "support/random_site.hpp"
#include "support/site_from.hpp"

namespace linewright::tests {
namespace {

using network::Move;
using network::Sequence;
using network::Situation;

/// A site with all that a search needs.
struct Searched {
  explicit Searched(site::Site read)
      : site(std::move(read)),
        profile(*rules::profile(site.profile)),
        analysed(check::analyse(site, profile)),
        scope(check::proof_scope(analysed)),
        movement(network::movement_of(analysed.network, site)) {}

  network::SearchTask task() const {
    return {.network = analysed.network, .site = site, .movement = movement, .scope = scope};
  }
  Situation state(std::string_view name) const {
    for (const site::State& state : site.states)
      if (state.name == name) return network::situation_of(analysed.network, site, state);
    FAIL("no state " << name);
    return {};
  }
  Sequence between(std::string_view from, std::string_view to) const {
    return network::find_sequence(task(), state(from),
                                  network::goal_of(analysed.network, movement, state(to)));
  }

  site::Site site;
  check::Profile profile;
  check::AnalysedSite analysed;
  network::HazardScope scope;
  network::Movement movement;
};

std::string sample_text(const std::string& name) {
  return text_of(source_folder() + "/samples/" + name + "/" + name + ".yaml");
}

Searched sample(const std::string& name) {
  return Searched(site_from(sample_text(name)));
}

const std::vector<std::string> samples{"tarn-house", "terrace", "farm", "clinic"};

bool is_event(const Move& move) {
  return move.kind == Move::Kind::supply_fails || move.kind == Move::Kind::supply_returns;
}

/// What the plain evaluator has to say against a sequence, step by step; empty if nothing.
std::string objections(const Searched& at, const Situation& from, const Sequence& sequence) {
  std::string words;
  Situation before = from;
  for (const network::SequenceStep& step : sequence.steps) {
    for (const auto& hazard :
         network::hazards_in(at.analysed.network, at.site, step.after, at.scope))
      words += network::words_of(hazard.kind) + "; ";
    if (network::forbidden_by(at.movement, step.after) != site::none) words += "interlocked; ";
    const auto moves = network::moves_between(at.analysed.network, at.movement, before, step.after);
    if (moves.size() != 1 + step.followed_by.size()) words += "not one move; ";
    if (!is_event(step.move) && !step.followed_by.empty()) words += "more than the move; ";
    before = step.after;
  }
  return words;
}

bool reached(const Searched& at, const Sequence& sequence, const Situation& from,
             const network::Goal& goal) {
  const Situation& end = sequence.steps.empty() ? from : sequence.steps.back().after;
  for (std::size_t s = 0; s < goal.positions.size(); ++s)
    if (goal.positions[s] && *goal.positions[s] != end.positions.of[s]) return false;
  for (std::size_t s = 0; s < goal.running.size(); ++s)
    if (goal.running[s] && *goal.running[s] != end.running[s]) return false;
  return at.site.elements.size() > 0;
}

TEST_CASE("steps: between any two states of a sample every step is safe and ends where promised") {
  for (const std::string& name : samples) {
    const Searched at = sample(name);
    for (const site::State& from : at.site.states)
      for (const site::State& to : at.site.states) {
        INFO(name << ": " << from.name << " to " << to.name);
        const Situation start = at.state(from.name);
        const auto goal = network::goal_of(at.analysed.network, at.movement, at.state(to.name));
        const Sequence sequence = network::find_sequence(at.task(), start, goal);
        REQUIRE(sequence.answer == Sequence::Answer::found);
        CHECK(sequence.shortest);
        CHECK(objections(at, start, sequence) == "");
        CHECK(reached(at, sequence, start, goal));
      }
  }
}

/// The least cost of a way by plain Dijkstra over every situation; -1 if there is none, -2 if there
/// are too many.
int brute_force(const network::SearchTask& task, const Situation& start,
                const network::Goal& goal) {
  using Key = std::pair<std::vector<int>, std::vector<bool>>;
  const auto key = [](const Situation& s) { return Key{s.positions.of, s.running}; };
  const auto safe = [&](const Situation& s) {
    return network::hazards_in(task.network, task.site, s, task.scope).empty() &&
           network::forbidden_by(task.movement, s) == site::none;
  };
  const auto at_goal = [&](const Situation& s) {
    for (std::size_t i = 0; i < goal.positions.size(); ++i)
      if (goal.positions[i] && *goal.positions[i] != s.positions.of[i]) return false;
    for (std::size_t i = 0; i < goal.running.size(); ++i)
      if (!task.network.sources[i].utility && goal.running[i] && *goal.running[i] != s.running[i])
        return false;
    return true;
  };
  std::map<Key, int> least{{key(start), 0}};
  std::map<Key, Situation> known{{key(start), start}};
  std::priority_queue<std::pair<int, Key>, std::vector<std::pair<int, Key>>, std::greater<>> queue;
  queue.emplace(0, key(start));
  std::vector<Move> moves;
  for (std::size_t s = 0; s < task.network.sources.size(); ++s)
    if (!task.network.sources[s].utility && task.network.sources[s].forming) {
      moves.push_back({Move::Kind::start, -1, -1, s});
      moves.push_back({Move::Kind::stop, -1, -1, s});
    }
  while (!queue.empty()) {
    const auto [paid, here_key] = queue.top();
    queue.pop();
    if (paid > least[here_key]) continue;
    const Situation here = known[here_key];
    if (at_goal(here)) return paid;
    if (known.size() > 3000) return -2;
    auto all = moves;
    for (int by = 0; by < static_cast<int>(task.network.switches.size()); ++by)
      if (network::may_be_moved(task, by))
        for (const int to :
             network::next_positions(task.network, task.movement.of[static_cast<std::size_t>(by)],
                                     by, here.positions.of[static_cast<std::size_t>(by)]))
          all.push_back({Move::Kind::put, by, to});
    for (const Move& move : all) {
      const Situation next = network::after_move(task, here, move);
      const Key there = key(next);
      if (there == here_key || !safe(next)) continue;
      const int cost = paid + network::cost_of(task, here, move);
      const auto old = least.find(there);
      if (old != least.end() && old->second <= cost) continue;
      least[there] = cost;
      known[there] = next;
      queue.emplace(cost, there);
    }
  }
  return -1;
}

TEST_CASE("steps: on sites made by chance the search finds what brute force finds, no dearer") {
  int found = 0;
  int none = 0;
  for (unsigned seed = 1; seed <= 1500; ++seed) {
    const site::Site site = random_site(seed);
    const network::Network network = network::build(site);
    const network::Movement movement = network::movement_of(network, site);
    const network::HazardScope scope;
    const network::SearchTask task{
        .network = network, .site = site, .movement = movement, .scope = scope};
    if (site.states.size() < 2) continue;
    Situation start = network::situation_of(network, site, site.states[0]);
    network::follow_laws(network, site, movement, start);
    const Situation end = network::situation_of(network, site, site.states[1]);
    auto goal = network::goal_of(network, movement, end);
    for (std::size_t s = 0; s < goal.running.size(); ++s)
      if (network.sources[s].utility) goal.running[s].reset();
    if (!network::hazards_in(network, site, start, scope).empty()) continue;
    if (network::forbidden_by(movement, start) != site::none) continue;
    const int wanted = brute_force(task, start, goal);
    if (wanted == -2) continue;
    const Sequence sequence = network::find_sequence(task, start, goal);
    INFO("seed " << seed);
    if (wanted < 0) {
      CHECK(sequence.answer == Sequence::Answer::none);
      ++none;
      continue;
    }
    REQUIRE(sequence.answer == Sequence::Answer::found);
    CHECK(sequence.cost == wanted);
    ++found;
  }
  CHECK(found > 100);
  CHECK(none > 20);
}

/// Elements joined to one another when these switches stand open and all others are closed in every
/// position at once; the sides of an inverter count as joined.
class JoinedUp {
 public:
  JoinedUp(const network::Network& network, const site::Site& site,
           const std::vector<network::LockPoint>& locks)
      : network_(network), up_(network.nodes.size()) {
    std::iota(up_.begin(), up_.end(), 0U);
    for (const network::Edge& edge : network.edges) {
      const bool locked = std::ranges::any_of(
          locks, [&](const network::LockPoint& lock) { return lock.by == edge.by; });
      const bool bond =
          edge.kind == network::EdgeKind::bond || edge.kind == network::EdgeKind::earth;
      if (!locked && !bond && live(edge.conductor)) up_[find(edge.a)] = find(edge.b);
    }
    for (std::size_t e = 0; e < site.elements.size(); ++e)
      if (site::facts<site::Inverter>(site.elements[e]) != nullptr) {
        const auto own = nodes(e);
        for (const std::uint32_t node : own)
          up_[find(node)] = find(own.front());
      }
  }
  bool joined(std::size_t one, std::size_t other) {
    for (const std::uint32_t a : nodes(one))
      for (const std::uint32_t b : nodes(other))
        if (find(a) == find(b)) return true;
    return false;
  }

 private:
  static bool live(site::Conductor c) { return site::lines.has(c) || site::direct_current.has(c); }
  std::vector<std::uint32_t> nodes(std::size_t element) const {
    std::vector<std::uint32_t> found;
    for (std::uint32_t n = 0; n < network_.nodes.size(); ++n)
      if (network_.nodes[n].element == element && live(network_.nodes[n].conductor))
        found.push_back(n);
    return found;
  }
  std::uint32_t find(std::uint32_t n) {
    while (up_[n] != n)
      n = up_[n] = up_[up_[n]];
    return n;
  }
  const network::Network& network_;
  std::vector<std::uint32_t> up_;
};

bool makes_voltage(const site::Element& element) {
  return site::facts<site::Supply>(element) != nullptr ||
         site::facts<site::Generator>(element) != nullptr ||
         site::facts<site::Battery>(element) != nullptr ||
         site::facts<site::PvArray>(element) != nullptr;
}

TEST_CASE("isolate: with the locks open no source reaches the part, whatever else is switched") {
  int looked_at = 0;
  for (const std::string& name : samples) {
    const Searched at = sample(name);
    for (const std::string& part : documents::names_to_isolate(at.site)) {
      INFO(name << ": " << part);
      const auto elements = documents::elements_named(at.site, part);
      const auto isolation =
          network::isolation_of(at.analysed.network, at.site, at.movement, elements);
      JoinedUp now(at.analysed.network, at.site, isolation.locks);
      for (std::size_t source = 0; source < at.site.elements.size(); ++source) {
        if (!makes_voltage(at.site.elements[source])) continue;
        if (std::ranges::count(isolation.stays_live, source) > 0) continue;
        const bool stopped = std::ranges::any_of(isolation.stopped, [&](std::size_t s) {
          return at.analysed.network.sources[s].element == source;
        });
        if (stopped) continue;
        for (const std::size_t e : elements)
          CHECK_FALSE(now.joined(e, source));
        ++looked_at;
      }
    }
  }
  CHECK(looked_at > 500);
}

TEST_CASE("isolate: on the samples something opens between every inverter and its stores") {
  for (const std::string& name : samples) {
    const Searched at = sample(name);
    for (std::size_t e = 0; e < at.site.elements.size(); ++e) {
      if (site::facts<site::Inverter>(at.site.elements[e]) == nullptr) continue;
      INFO(name << ": " << at.site.elements[e].designation);
      const auto isolation = network::isolation_of(at.analysed.network, at.site, at.movement, {e});
      CHECK(isolation.stays_live.empty());
      CHECK(isolation.stopped.size() == 1);
    }
  }
}

TEST_CASE("isolate: a store that nothing parts from its inverter stays alive, and that is said") {
  const Searched at(
      site_from(with(sample_text("terrace"), "-Q21 disconnector 25 A 2P lockable, ", "")));
  const auto isolation =
      network::isolation_of(at.analysed.network, at.site, at.movement, {at.site.find("-T1")});
  REQUIRE(isolation.stays_live.size() == 1);
  CHECK(at.site.elements[isolation.stays_live.front()].designation == "-E1");
}

TEST_CASE("isolate: the switching towards every inverter and store is safe, also without supply") {
  for (const std::string& name : samples) {
    const Searched at = sample(name);
    const documents::Grounds grounds{at.site, at.analysed.network, at.scope, at.movement};
    for (std::size_t e = 0; e < at.site.elements.size(); ++e) {
      const site::Element& element = at.site.elements[e];
      if (site::facts<site::Inverter>(element) == nullptr &&
          site::facts<site::Battery>(element) == nullptr)
        continue;
      INFO(name << ": " << element.designation);
      const auto isolation = network::isolation_of(at.analysed.network, at.site, at.movement, {e});
      const auto goal = documents::goal_of(grounds, isolation);
      const Situation start = at.state("grid");
      const Sequence sequence = network::find_sequence(at.task(), start, goal);
      REQUIRE(sequence.answer == Sequence::Answer::found);
      CHECK(objections(at, start, sequence) == "");
      CHECK(reached(at, sequence, start, goal));
      Situation dark = sequence.steps.back().after;
      for (std::size_t s = 0; s < dark.running.size(); ++s)
        if (at.analysed.network.sources[s].utility) dark.running[s] = false;
      network::follow_laws(at.analysed.network, at.site, at.movement, dark);
      CHECK(network::hazards_in(at.analysed.network, at.site, dark, at.scope).empty());
    }
  }
}

TEST_CASE("steps: a changeover with an off position is led through it") {
  const Sequence sequence = sample("tarn-house").between("island", "generator");
  REQUIRE(sequence.steps.size() == 3);  // the set is started, then I to 0, then 0 to II
  CHECK(sequence.steps[0].move.kind == Move::Kind::start);
  CHECK(sequence.steps[1].move.by == sequence.steps[2].move.by);
}

TEST_CASE("steps: an interlock in the way is named") {
  const Searched at(site_from(with(sample_text("clinic"), "interlocks:\n",
                                   "interlocks:\n  - {never together: [-Q1: II, -Q2: closed], by: "
                                   "key}\n")));
  const Sequence sequence = at.between("island", "generator");
  CHECK(sequence.answer == Sequence::Answer::none);
  REQUIRE(sequence.refusal);
  REQUIRE(sequence.refusal->interlock != site::none);
  CHECK(at.site.interlocks[sequence.refusal->interlock].means == site::InterlockMeans::key);
  CHECK(sequence.refusal->moves_left == 0);
}

TEST_CASE("steps: an island without a bond is refused with its reason") {
  const Searched at(
      site_from(text_of(source_folder() + "/samples/faulty/bond-missing-in-island.yaml")));
  const Sequence sequence = at.between("grid", "island");
  CHECK(sequence.answer == Sequence::Answer::none);
  REQUIRE(sequence.refusal);
  REQUIRE_FALSE(sequence.refusal->hazards.empty());
  CHECK(sequence.refusal->hazards.front().kind == network::HazardKind::neutral_without_bond);
}

TEST_CASE("steps: too many situations are not decided, and not a pass") {
  const Searched at = sample("clinic");
  network::SearchTask task = at.task();
  task.most = 2;  // the way has six steps
  const Sequence sequence = network::find_sequence(
      task, at.state("off"),
      network::goal_of(at.analysed.network, at.movement, at.state("generator")));
  CHECK(sequence.answer == Sequence::Answer::not_decided);
  CHECK(sequence.steps.empty());
}

TEST_CASE("steps: switching load with a device that is not made for it costs more than a detour") {
  const Searched at = sample("tarn-house");
  const network::SearchTask task = at.task();
  const Situation grid = at.state("grid");
  const int disconnector = at.analysed.network.find_switch(at.site.find("-Q21"));
  REQUIRE(disconnector >= 0);
  const Move open{Move::Kind::put, disconnector, 0};
  const Situation bypass = at.state("bypass");
  CHECK(network::cost_of(task, grid, open) >= 300);    // -T1 runs
  CHECK(network::cost_of(task, bypass, open) == 100);  // -T1 stands still
}

}  // namespace
}  // namespace linewright::tests
