#include "documents/procedure.hpp"

#include <algorithm>
#include <optional>
#include <utility>

#include <fmt/core.h>

#include "documents/procedure_dead.hpp"
#include "documents/procedure_steps.hpp"
#include "network/hazard_words.hpp"
#include "network/proof.hpp"

namespace linewright::documents {
namespace {

using network::Sequence;
using site::none;

const std::string off = "off";

const site::State* find_state(const site::Site& site, const std::string& name) {
  const auto found = std::ranges::find(site.states, name, &site::State::name);
  return found == site.states.end() ? nullptr : &*found;
}

bool is_off(const site::Site& site, const std::string& name) {
  const site::State* state = find_state(site, name);
  return state == nullptr || state->kind == site::StateKind::off;
}

/// Whether nothing but circuits can be behind the device: it stands last before a load.
bool ends_at_loads(const Grounds& grounds, std::size_t element) {
  return std::ranges::any_of(grounds.site.runs, [&](const site::Run& run) {
    const auto is_load = [&](std::size_t e) {
      return site::facts<site::LoadGroup>(grounds.site.elements[e]) != nullptr;
    };
    return (run.from.element == element && is_load(run.to.element)) ||
           (run.to.element == element && is_load(run.from.element));
  });
}

/// Everything that can be opened stands open, but for the circuits' own devices.
network::Situation all_open(const Grounds& grounds) {
  network::Situation situation;
  for (std::size_t s = 0; s < grounds.network.switches.size(); ++s) {
    const network::Switch& it = grounds.network.switches[s];
    int at = it.rest;
    if (network::may_be_moved(grounds.task(), static_cast<int>(s)) &&
        !ends_at_loads(grounds, it.element))
      for (const int position : grounds.movement.of[s].positions)
        if (network::is_open_position(grounds.network, static_cast<int>(s), position))
          at = position;
    situation.positions.of.push_back(at);
  }
  situation.running.assign(grounds.network.sources.size(), false);
  return situation;
}

network::Situation situation_named(const Grounds& grounds, const std::string& name) {
  const site::State* state = find_state(grounds.site, name);
  return state == nullptr ? all_open(grounds)
                          : network::situation_of(grounds.network, grounds.site, *state);
}

void set_supply(const Grounds& grounds, bool runs, network::Situation& situation) {
  for (std::size_t s = 0; s < grounds.network.sources.size(); ++s)
    if (grounds.network.sources[s].utility) situation.running[s] = runs;
}

bool supply_runs(const Grounds& grounds, const network::Situation& situation) {
  for (std::size_t s = 0; s < grounds.network.sources.size(); ++s)
    if (grounds.network.sources[s].utility && situation.running[s]) return true;
  return false;
}

void note_off(const Grounds& grounds, const std::string& name, Procedure& procedure) {
  if (name == off && find_state(grounds.site, off) == nullptr)
    procedure.notes.emplace_back(
        "the file names no state 'off': taken as everything open that can be opened, but for the "
        "circuits' own devices");
}

/// Where to begin. A state of kind off says nothing of the supply: it is taken as the goal has it,
/// alive where the goal leaves it free.
network::Situation start_of(const Grounds& grounds, Procedure& procedure, bool supply_at_goal) {
  const std::string& from = procedure.request.from;
  network::Situation start = situation_named(grounds, from);
  note_off(grounds, from, procedure);
  if (is_off(grounds.site, from)) {
    set_supply(grounds, supply_at_goal, start);
    procedure.notes.push_back(supply_at_goal ? "the supply is alive all the time"
                                             : "the supply is dead all the time");
    procedure.notes.emplace_back(
        "before first use: every circuit's own device open, then close and test one by one");
  }
  return start;
}

network::Goal goal_named(const Grounds& grounds, Procedure& procedure) {
  const std::string& to = procedure.request.to;
  network::Goal goal =
      network::goal_of(grounds.network, grounds.movement, situation_named(grounds, to));
  note_off(grounds, to, procedure);
  if (is_off(grounds.site, to))
    for (std::size_t s = 0; s < goal.running.size(); ++s)
      if (grounds.network.sources[s].utility) goal.running[s].reset();
  return goal;
}

std::string hazard_words(const Grounds& grounds, const network::Hazard& hazard) {
  return fmt::format("{} ({}){}", network::words_of(hazard.kind),
                     network::subject_words(grounds.site, hazard),
                     hazard.sure ? "" : ", as far as the file says");
}

/// A situation by the named state that is nearest to it: "'grid' with -Q5 closed".
std::string situation_words(const Grounds& grounds, const network::Situation& situation) {
  const site::State* nearest = nullptr;
  std::vector<network::Move> fewest;
  for (const site::State& state : grounds.site.states) {
    auto moves = network::moves_between(grounds.network, grounds.movement,
                                        network::situation_of(grounds.network, grounds.site, state),
                                        situation);
    if (nearest != nullptr && moves.size() >= fewest.size()) continue;
    nearest = &state;
    fewest = std::move(moves);
  }
  if (nearest == nullptr) return "where the site stands then";
  std::string words;
  for (const network::Move& move : fewest)
    words +=
        (words.empty() ? ", then " : ", ") + network::words_of(grounds.network, grounds.site, move);
  return fmt::format("'{}'{}", nearest->name, words);
}

void say_why_not(const Grounds& grounds, const Sequence& sequence, Procedure& procedure) {
  if (sequence.answer == Sequence::Answer::unsafe_start) {
    for (const network::Hazard& hazard : sequence.start_hazard)
      procedure.why_not.push_back(fmt::format("'{}' is not safe to begin with: {}",
                                              procedure.request.from,
                                              hazard_words(grounds, hazard)));
    return;
  }
  if (sequence.none_near && sequence.answer == Sequence::Answer::not_decided)
    procedure.why_not.emplace_back(
        "none by what changes over, is interlocked or stands otherwise at the end; whether moving "
        "other devices as well would help is not decided");
  if (!sequence.refusal) {
    procedure.why_not.emplace_back("no device that can be moved leads there");
    return;
  }
  const network::Refusal& refusal = *sequence.refusal;
  const std::string step =
      fmt::format("nearest to the goal, from {}: {}", situation_words(grounds, refusal.before),
                  network::words_of(grounds.network, grounds.site, refusal.move));
  if (refusal.interlock != none)
    procedure.why_not.push_back(
        fmt::format("{} is kept from happening by an interlock ({})", step,
                    network::interlock_words(grounds.site, refusal.interlock)));
  for (const network::Hazard& hazard : refusal.hazards)
    procedure.why_not.push_back(
        fmt::format("{} would make {}", step, hazard_words(grounds, hazard)));
}

void note_unknown_start(const Grounds& grounds, const network::Situation& start,
                        Procedure& procedure) {
  for (std::size_t s = 0; s < start.positions.of.size(); ++s)
    if (start.positions.of[s] == network::unknown &&
        grounds.movement.of[s].mover != network::Mover::law)
      procedure.open.push_back(fmt::format("where {} stands in '{}' is not said",
                                           grounds.name(grounds.network.switches[s].element),
                                           procedure.request.from));
}

void write_steps(const Grounds& grounds, const network::Situation& start,
                 const std::vector<network::SequenceStep>& steps, Procedure& procedure) {
  const Moment first = look_at(grounds, start);
  procedure.at_start = first.parts;
  Moment before = look_at(grounds, start);
  for (const network::SequenceStep& step : steps) {
    Moment after = look_at(grounds, step.after);
    procedure.steps.push_back(words_of_step(grounds, before, step, after));
    before = std::move(after);
  }
  if (procedure.steps.empty()) return;
  auto& verify = procedure.steps.back().verify;
  const Occasion occasion =
      is_off(grounds.site, procedure.request.from) ? Occasion::first_use : Occasion::in_use;
  for (std::string& check : last_checks(grounds, first, before, occasion))
    verify.push_back(std::move(check));
}

ProcedureResult result_of(const Sequence& sequence, const Procedure& procedure) {
  switch (sequence.answer) {
    case Sequence::Answer::found:
      return procedure.open.empty() ? ProcedureResult::ready : ProcedureResult::open;
    case Sequence::Answer::none:
    case Sequence::Answer::unsafe_start:
      return ProcedureResult::impossible;
    case Sequence::Answer::not_decided:
      break;
  }
  return ProcedureResult::not_decided;
}

/// Circuits that are alive at first are to be dead for as few steps as can be; inverters that end
/// stopped are stopped before anything is switched: common practice.
network::Preferences preferences_for(const Grounds& grounds, const network::Situation& start,
                                     const network::Goal& goal) {
  network::Preferences preferences;
  preferences.loads_kept = look_at(grounds, start).view.alive_loads;
  for (std::size_t s = 0; s < goal.running.size(); ++s)
    if (goal.running[s] == false &&
        site::facts<site::Inverter>(grounds.site.elements[grounds.network.sources[s].element]) !=
            nullptr)
      preferences.stop_first.push_back(s);
  return preferences;
}

/// Work that begins in the bypass begins with the way into it.
void note_way_to_start(const site::Site& site, Procedure& procedure) {
  const std::string& from = procedure.request.from;
  const site::State* state = find_state(site, from);
  if (state != nullptr && state->kind == site::StateKind::bypass)
    procedure.notes.push_back(fmt::format("first go from '{}' to '{}'", usual_start(site), from));
}

/// A transformer hands voltage on both ways, an inverter perhaps what another one passes on; what
/// lies behind is not followed: no order of switching can be called safe.
std::optional<Procedure> refused(const Grounds& grounds, const ProcedureRequest& request) {
  const std::vector<std::size_t> unfollowed = network::not_followed(grounds.network, grounds.site);
  if (unfollowed.empty()) return std::nullopt;
  Procedure procedure{.request = request, .result = ProcedureResult::not_decided};
  for (const std::size_t element : unfollowed)
    procedure.why_not.push_back(network::not_followed_words(grounds.site, element) +
                                ": what is alive and what is dead cannot be told");
  return procedure;
}

Procedure make(const Grounds& grounds, const ProcedureRequest& request) {
  if (std::optional<Procedure> refusal = refused(grounds, request)) return std::move(*refusal);
  Procedure procedure{.request = request};
  const bool isolates = !request.isolate.empty();
  network::Isolation isolation;
  network::Goal goal;
  bool supply_at_goal = true;
  if (isolates) {
    isolation = network::isolation_of(grounds.network, grounds.site, grounds.movement,
                                      elements_named(grounds.site, request.isolate));
    goal = goal_of(grounds, isolation);
  } else {
    goal = goal_named(grounds, procedure);
    supply_at_goal = is_off(grounds.site, request.to) ||
                     supply_runs(grounds, situation_named(grounds, request.to));
  }
  const network::Situation start = start_of(grounds, procedure, supply_at_goal);
  note_unknown_start(grounds, start, procedure);
  network::SearchTask task = grounds.task();
  task.preferences = preferences_for(grounds, start, goal);
  const Sequence sequence = network::find_sequence(task, start, goal);
  procedure.looked_at = sequence.looked_at;
  if (sequence.answer == Sequence::Answer::found) {
    write_steps(grounds, start, sequence.steps, procedure);
    for (std::string& point : open_points(grounds, sequence.steps))
      procedure.open.push_back(std::move(point));
    if (!sequence.shortest)
      procedure.notes.emplace_back("safe, but a shorter way by other switches was not ruled out");
    if (isolates) {
      note_way_to_start(grounds.site, procedure);
      procedure.dead = dead_work(grounds, isolation, request.isolate, procedure.open);
      procedure.notes.emplace_back("safe also if the supply fails during the work");
    }
  } else {
    procedure.at_start = look_at(grounds, start).parts;
    say_why_not(grounds, sequence, procedure);
  }
  procedure.result = result_of(sequence, procedure);
  return procedure;
}

}  // namespace

std::vector<std::string> state_names(const site::Site& site) {
  std::vector<std::string> names;
  for (const site::State& state : site.states)
    names.push_back(state.name);
  if (std::ranges::count(names, off) == 0) names.push_back(off);
  return names;
}

std::vector<std::string> names_to_isolate(const site::Site& site) {
  std::vector<std::string> names;
  for (const site::Assembly& assembly : site.assemblies)
    if (!elements_named(site, assembly.designation).empty()) names.push_back(assembly.designation);
  for (const site::Element& element : site.elements)
    if (!(element.conductors & (site::lines | site::direct_current)).empty() &&
        site::facts<site::Supply>(element) == nullptr)
      names.push_back(element.designation);
  return names;
}

std::string usual_start(const site::Site& site) {
  for (const site::State& state : site.states)
    if (state.kind == site::StateKind::grid) return state.name;
  return site.states.empty() ? off : site.states.front().name;
}

std::vector<Procedure> procedures(const site::Site& site, const network::Network& network,
                                  const network::HazardScope& scope,
                                  const std::vector<ProcedureRequest>& requests) {
  const Grounds grounds{site, network, scope, network::movement_of(network, site)};
  std::vector<Procedure> all;
  for (const ProcedureRequest& request : requests)
    all.push_back(make(grounds, request));
  return all;
}

}  // namespace linewright::documents
