#include "network/transitions.hpp"

#include <algorithm>
#include <iterator>

#include <fmt/core.h>

#include "network/neutral_paths.hpp"

namespace linewright::network {
namespace {

bool is_supply_event(const Move& move) {
  return move.kind == Move::Kind::supply_fails || move.kind == Move::Kind::supply_returns;
}

bool is_generator(const Network& network, const site::Site& site, std::size_t source) {
  return site::facts<site::Generator>(site.elements[network.sources[source].element]) != nullptr;
}

/// Lower comes first: see transitions().
int rank(const Network& network, const site::Site& site, const Move& move) {
  if (is_supply_event(move)) return 0;
  switch (move.kind) {
    case Move::Kind::start:
      return is_generator(network, site, move.source) ? 1 : 5;
    case Move::Kind::stop:
      return is_generator(network, site, move.source) ? 6 : 2;
    default:
      return is_open_position(network, move.by, move.position) ? 3 : 4;
  }
}

/// Walks from one situation on, noting every step.
class Walk {
 public:
  Walk(const MotionNetwork& motion, const site::Site& site, const Movement& movement,
       Situation start)
      : motion_(motion), site_(site), movement_(movement), now_(std::move(start)) {
    note(StepKind::stands, {});
  }

  void go(const Move& move) {
    const Situation before = now_;
    if (move.kind == Move::Kind::put) {
      if (!is_open_position(motion_.network, move.by, move.position)) release_links(move);
      pass(move);
    }
    apply(now_, move);
    follow(move, before);
  }

  /// The last step is that state, with its links as it names them.
  void arrive(const Situation& at) {
    if (now_.positions.of == at.positions.of && now_.running == at.running) return;
    now_ = at;
    note(StepKind::stands, {});
  }

  Situation& now() { return now_; }
  /// From here on links stay where they are: their coils are dead.
  void hold_links() { links_held_ = true; }
  void note(StepKind kind, const Move& move, int link = -1) {
    steps_.push_back({kind, move, link, now_});
  }
  std::vector<Step> steps() && { return std::move(steps_); }

 private:
  static void apply(Situation& situation, const Move& move) {
    if (move.kind == Move::Kind::put)
      situation.positions.of[static_cast<std::size_t>(move.by)] = move.position;
    else
      situation.running[move.source] =
          move.kind == Move::Kind::start || move.kind == Move::Kind::supply_returns;
  }

  bool is_link(std::size_t s) const {
    return site::facts<site::Bond>(site_.elements[motion_.network.switches[s].element]) != nullptr;
  }
  bool follows_law(std::size_t s) const { return movement_.of[s].mover == Mover::law; }

  /// The situation with every contact that the file's laws move where they have it; a link
  /// without such a law stays.
  Situation lawful(Situation situation) const {
    Situation told = situation;
    follow_laws(motion_.network, site_, movement_, told);
    for (std::size_t s = 0; s < told.positions.of.size(); ++s)
      if (follows_law(s) && told.positions.of[s] != unknown && !(links_held_ && is_link(s)))
        situation.positions.of[s] = told.positions.of[s];
    return situation;
  }

  /// Whether an interlock of lever, key or wiring lets the device close only once the link is open.
  bool kept_apart(std::size_t link, const Move& move) const {
    return std::ranges::any_of(movement_.barriers, [&](const Barrier& barrier) {
      const site::InterlockMeans means = site_.interlocks[barrier.interlock].means;
      if (means == site::InterlockMeans::control || means == site::InterlockMeans::unknown)
        return false;
      const auto names = [&](int by, int position) {
        return std::ranges::count(barrier.never_together, SwitchAt{by, position}) > 0;
      };
      return names(move.by, move.position) &&
             names(static_cast<int>(link), now_.positions.of[link]);
    });
  }

  /// Opens what must be open before the device closes.
  void release_links(const Move& move) {
    Situation after = now_;
    apply(after, move);
    after = lawful(std::move(after));
    for (std::size_t s = 0; s < after.positions.of.size(); ++s) {
      const bool opens = follows_law(s) && now_.positions.of[s] == 1 && after.positions.of[s] == 0;
      if (!opens || (is_link(s) && !kept_apart(s, move))) continue;
      now_.positions.of[s] = 0;
      note(StepKind::link_late, move, static_cast<int>(s));
    }
  }

  /// What the contacts of the device do between the two positions.
  void pass(const Move& move) {
    const auto s = static_cast<std::size_t>(move.by);
    const int from = now_.positions.of[s];
    const auto* device =
        site::facts<site::Device>(site_.elements[motion_.network.switches[s].element]);
    if (device == nullptr || from == unknown) return;
    const bool leaves = !is_open_position(motion_.network, move.by, from);
    const bool makes = !is_open_position(motion_.network, move.by, move.position);
    if (leaves && makes && overlaps(*device)) {
      const StepKind kind = device->break_before_make || device->closed_transition
                                ? StepKind::overlap
                                : StepKind::overlap_maybe;
      be(s, overlap_of(s, from, move.position), kind, move);
      return;
    }
    if (leaves) half(s, from, *device, move);
    if (leaves && makes) be(s, off_of(s), StepKind::parted, move);
    if (makes) half(s, move.position, *device, move);
  }

  static bool has_off(const site::Device& device) {
    return std::ranges::any_of(device.throws,
                               [](const site::Throw& it) { return it.terminal.empty(); });
  }

  /// Whether both throws may be closed at once on the way.
  static bool overlaps(const site::Device& device) {
    if (device.closed_transition) return true;
    if (device.break_before_make) return !*device.break_before_make;
    return !has_off(device);
  }

  int off_of(std::size_t s) const { return motion_.parted[s]; }

  int overlap_of(std::size_t s, int p, int q) const {
    const std::uint32_t pair = 1U << static_cast<unsigned>(p) | 1U << static_cast<unsigned>(q);
    const auto found = std::ranges::find(motion_.overlaps[s], pair);
    return motion_.first_overlap[s] + static_cast<int>(found - motion_.overlaps[s].begin());
  }

  void half(std::size_t s, int position, const site::Device& device, const Move& move) {
    if (motion_.first_neutral_alone[s] == unknown || !device.neutral_timing) return;
    if (*device.neutral_timing == site::NeutralTiming::early_make_late_break)
      be(s, motion_.first_neutral_alone[s] + position, StepKind::neutral_alone, move);
    if (*device.neutral_timing == site::NeutralTiming::separate)
      be(s, motion_.first_lines_alone[s] + position, StepKind::lines_alone, move);
  }

  void be(std::size_t s, int position, StepKind kind, const Move& move) {
    now_.positions.of[s] = position;
    note(kind, move);
  }

  /// Brings what follows a law to its place, links one by one.
  void follow(const Move& move, const Situation& before) {
    const Situation after = lawful(now_);
    for (std::size_t s = 0; s < after.positions.of.size(); ++s)
      if (follows_law(s) && !is_link(s)) now_.positions.of[s] = after.positions.of[s];
    for (std::size_t s = 0; s < after.positions.of.size(); ++s) {
      if (!is_link(s) || now_.positions.of[s] == after.positions.of[s]) continue;
      note(StepKind::link_late, move, static_cast<int>(s));
      now_.positions.of[s] = after.positions.of[s];
    }
    if (now_.positions.of != before.positions.of || now_.running != before.running)
      note(StepKind::stands, move);
  }

  const MotionNetwork& motion_;
  const site::Site& site_;
  const Movement& movement_;
  Situation now_;
  bool links_held_ = false;
  std::vector<Step> steps_;
};

class Maker {
 public:
  Maker(const MotionNetwork& motion, const site::Site& site)
      : motion_(motion), site_(site), movement_(movement_of(motion.network, site)) {
    for (const site::State& state : site.states)
      states_.push_back(situation_of(motion.network, site, state));
  }

  std::vector<Transition> run() {
    for (std::size_t from = 0; from < states_.size(); ++from)
      for (std::size_t to = 0; to < states_.size(); ++to)
        if (from != to) add_between(from, to);
    for (std::size_t from = 0; from < states_.size(); ++from) {
      add_trips(from);
      add_power_loss(from);
    }
    return std::move(made_);
  }

 private:
  const Network& network() const { return motion_.network; }
  bool supply_alive(std::size_t state) const {
    for (std::size_t s = 0; s < network().sources.size(); ++s)
      if (network().sources[s].utility && states_[state].running[s]) return true;
    return false;
  }

  Event event_of(std::size_t from, const std::vector<Move>& moves, std::size_t to) const {
    if (supply_alive(from) != supply_alive(to))
      return supply_alive(to) ? Event::supply_returns : Event::supply_fails;
    const bool starts = std::ranges::any_of(moves, [&](const Move& move) {
      return move.kind == Move::Kind::start && is_generator(network(), site_, move.source);
    });
    return starts ? Event::generator_starts : Event::ordered;
  }

  void add_between(std::size_t from, std::size_t to) {
    std::vector<Move> moves = moves_between(network(), movement_, states_[from], states_[to]);
    std::ranges::stable_sort(moves, [&](const Move& a, const Move& b) {
      return rank(network(), site_, a) < rank(network(), site_, b);
    });
    Walk walk(motion_, site_, movement_, states_[from]);
    for (const Move& move : moves)
      walk.go(move);
    walk.arrive(states_[to]);
    made_.push_back({.event = event_of(from, moves, to),
                     .from = from,
                     .to = to,
                     .steps = std::move(walk).steps()});
  }

  /// Every residual-current device that parts a running inverter's line from the supply.
  void add_trips(std::size_t from) {
    const auto joined = components(network(), states_[from].positions, false);
    const std::vector<bool> between = between_supply_and_inverters(from, joined);
    for (std::size_t s = 0; s < network().switches.size(); ++s) {
      const std::size_t element = network().switches[s].element;
      const auto* device = site::facts<site::Device>(site_.elements[element]);
      if (!between[s] || device == nullptr || !device->residual || device->rest != "closed")
        continue;
      if (!parts_an_inverter(from, s, joined)) continue;
      Walk walk(motion_, site_, movement_, states_[from]);
      walk.go({Move::Kind::put, static_cast<int>(s), 0});
      made_.push_back({.event = Event::rcd_trips,
                       .from = from,
                       .rcd = element,
                       .steps = std::move(walk).steps()});
    }
  }

  /// Calls `look` with the line nodes of each supply that runs and of each inverter.
  template <class Look>
  void each_supply_and_inverter(std::size_t from, Look look) const {
    for (std::size_t u = 0; u < network().sources.size(); ++u) {
      if (!network().sources[u].utility || !states_[from].running[u]) continue;
      const std::vector<std::uint32_t> supply = line_nodes(network(), u);
      for (std::size_t e = 0; e < site_.elements.size(); ++e) {
        if (site::facts<site::Inverter>(site_.elements[e]) == nullptr) continue;
        const std::size_t ac = site_.find_terminal(e, "ac");
        if (ac != site::none) look(supply, line_nodes(network(), e, ac));
      }
    }
  }

  // What parts the two lies on every way between them, so on any one: only the switches of one
  // way a pair have to be tried.
  std::vector<bool> between_supply_and_inverters(std::size_t from,
                                                 const std::vector<std::uint32_t>& joined) const {
    std::vector<bool> between(network().switches.size(), false);
    each_supply_and_inverter(from, [&](const auto& supply, const auto& inverter) {
      for (const std::uint32_t a : supply)
        for (const std::uint32_t b : inverter) {
          if (joined[a] != joined[b]) continue;
          for (const std::uint32_t e : way(network(), states_[from].positions, a, b, {}))
            if (const int by = network().edges[e].by; by != fixed)
              between[static_cast<std::size_t>(by)] = true;
          return;
        }
    });
    return between;
  }

  bool parts_an_inverter(std::size_t from, std::size_t s,
                         const std::vector<std::uint32_t>& joined) const {
    if (states_[from].positions.of[s] != 1) return false;
    Positions opened = states_[from].positions;
    opened.of[s] = 0;
    const auto apart = components(network(), opened, false);
    bool parts = false;
    each_supply_and_inverter(from, [&](const auto& supply, const auto& inverter) {
      parts = parts || (meet(joined, supply, inverter) && !meet(apart, supply, inverter));
    });
    return parts;
  }

  static bool meet(const std::vector<std::uint32_t>& component,
                   const std::vector<std::uint32_t>& some,
                   const std::vector<std::uint32_t>& others) {
    return std::ranges::any_of(some, [&](std::uint32_t a) {
      return std::ranges::any_of(others,
                                 [&](std::uint32_t b) { return component[a] == component[b]; });
    });
  }

  /// Coils drop out one after the other, those that open first; links go to rest with them.
  void add_power_loss(std::size_t from) {
    std::vector<Move> moves;
    for (std::size_t s = 0; s < network().switches.size(); ++s) {
      const int goes = movement_.of[s].without_power;
      const auto* device = site::facts<site::Device>(site_.elements[network().switches[s].element]);
      if (device == nullptr || goes == unknown || states_[from].positions.of[s] == goes) continue;
      moves.push_back({Move::Kind::put, static_cast<int>(s), goes});
    }
    std::ranges::stable_sort(moves, [&](const Move& a, const Move& b) {
      return rank(network(), site_, a) < rank(network(), site_, b);
    });
    Walk walk(motion_, site_, movement_, states_[from]);
    if (!drop_links(walk) && moves.empty()) return;
    walk.hold_links();
    for (const Move& move : moves)
      walk.go(move);
    made_.push_back(
        {.event = Event::control_power_lost, .from = from, .steps = std::move(walk).steps()});
  }

  /// Whether any link fell to rest.
  bool drop_links(Walk& walk) const {
    bool any = false;
    for (std::size_t s = 0; s < network().switches.size(); ++s) {
      const Switch& it = network().switches[s];
      int& at = walk.now().positions.of[s];
      if (site::facts<site::Bond>(site_.elements[it.element]) == nullptr || at == it.rest) continue;
      at = it.rest;
      any = true;
    }
    if (any) walk.note(StepKind::stands, {});
    return any;
  }

  const MotionNetwork& motion_;
  const site::Site& site_;
  Movement movement_;
  std::vector<Situation> states_;
  std::vector<Transition> made_;
};

}  // namespace

std::vector<Transition> transitions(const MotionNetwork& motion, const site::Site& site) {
  return Maker(motion, site).run();
}

std::string words_of(const MotionNetwork& motion, const site::Site& site, const Step& step) {
  const auto name = [&](int by) {
    return site.elements[motion.network.switches[static_cast<std::size_t>(by)].element].designation;
  };
  std::string done = step.move.by < 0 && step.move.source == site::none
                         ? std::string()
                         : words_of(motion.network, site, step.move);
  switch (step.kind) {
    case StepKind::stands:
      return done;
    case StepKind::parted:
      return fmt::format("'{}' between two positions, all open ({})", name(step.move.by), done);
    case StepKind::overlap:
    case StepKind::overlap_maybe:
      return fmt::format("'{}' between two positions, both closed ({})", name(step.move.by), done);
    case StepKind::neutral_alone:
      return fmt::format("'{}' with N closed and its lines open ({})", name(step.move.by), done);
    case StepKind::lines_alone:
      return fmt::format("'{}' with its lines closed and N open ({})", name(step.move.by), done);
    case StepKind::link_late:
      return fmt::format("'{}' on its way ({})", name(step.link), done);
  }
  return done;
}

std::string words_of(const site::Site& site, const Transition& transition) {
  const std::string& from = site.states[transition.from].name;
  if (transition.event == Event::rcd_trips)
    return fmt::format("when '{}' trips in '{}'", site.elements[transition.rcd].designation, from);
  if (transition.event == Event::control_power_lost)
    return fmt::format("when control power is lost in '{}'", from);
  return fmt::format("from '{}' to '{}'", from, site.states[transition.to].name);
}

}  // namespace linewright::network
