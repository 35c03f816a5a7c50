#include "documents/procedure_steps.hpp"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "documents/state_words.hpp"
#include "network/joining.hpp"
#include "units/print.hpp"

namespace linewright::documents {
namespace {

using network::Move;
using network::Mover;
using site::none;

const network::Switch& switch_of(const Grounds& grounds, int by) {
  return grounds.network.switches[static_cast<std::size_t>(by)];
}

const site::Device* device_of(const Grounds& grounds, const Move& move) {
  return site::facts<site::Device>(grounds.site.elements[switch_of(grounds, move.by).element]);
}

/// What moves as well when a device's coil is driven: "-T1".
std::string driver_words(const site::Device* device) {
  return device == nullptr || device->driven_by.empty()
             ? "its controller"
             : fmt::format("its controller ({})", device->driven_by);
}

std::string at_place(const Grounds& grounds, std::size_t element) {
  const std::string place = place_words(grounds.site, element);
  return place.empty() ? "" : ", " + place;
}

/// "or -T1 starts it over -W82", if a signal cable leads from something to the source.
std::string signal_words(const Grounds& grounds, std::size_t element, std::string_view does) {
  for (const site::SignalLink& link : grounds.site.signals) {
    if (std::ranges::count(link.devices, grounds.name(element)) == 0) continue;
    for (const std::string& other : link.devices)
      if (other != grounds.name(element))
        return fmt::format(", or {} {} it over {}", other, does, link.designation);
  }
  return {};
}

std::string who_moves(const Grounds& grounds, const Move& move) {
  const std::size_t element = switch_of(grounds, move.by).element;
  const std::string place = at_place(grounds, element);
  switch (grounds.movement.of[static_cast<std::size_t>(move.by)].mover) {
    case Mover::hand:
      return "by hand" + place;
    case Mover::controller:
      return "by " + driver_words(device_of(grounds, move)) + place;
    case Mover::both:
      return "by hand, or by " + driver_words(device_of(grounds, move)) + place;
    case Mover::not_said:
    case Mover::law:
    case Mover::nobody:
      break;
  }
  return "not said" + place;
}

std::string who_does(const Grounds& grounds, const Move& move) {
  if (move.kind == Move::Kind::put) return who_moves(grounds, move);
  if (move.kind == Move::Kind::supply_fails || move.kind == Move::Kind::supply_returns)
    return "nobody: it happens";
  const std::size_t element = grounds.network.sources[move.source].element;
  const bool starts = move.kind == Move::Kind::start;
  if (site::facts<site::Generator>(grounds.site.elements[element]) != nullptr)
    return "at the set" + signal_words(grounds, element, starts ? "starts" : "stops");
  return "by hand, at the controls of " + grounds.name(element);
}

std::string moved_by_itself(const Grounds& grounds, int by, int position) {
  const network::Switch& it = switch_of(grounds, by);
  const std::string& word = it.positions[static_cast<std::size_t>(position)];
  const std::string name = switch_name(grounds.site, it);
  if (word == "open") return name + " opens";
  if (word == "closed") return name + " closes";
  return fmt::format("{} goes to {}", name, word);
}

/// Inverters that only follow: they start and stop with the voltage at their terminals.
void add_followers(const Grounds& grounds, const Moment& before, const Moment& after,
                   std::vector<std::string>& words) {
  for (std::size_t s = 0; s < grounds.network.sources.size(); ++s) {
    const network::SourcePoint& source = grounds.network.sources[s];
    if (source.forming) continue;
    const bool was = live_at(grounds, before, source.element, source.terminal);
    const bool is = live_at(grounds, after, source.element, source.terminal);
    if (was == is) continue;
    words.push_back(grounds.name(source.element) +
                    (is ? " has voltage and feeds in after its waiting time, if it is switched on"
                        : " loses its voltage and stops"));
  }
}

std::vector<std::string> what_follows(const Grounds& grounds, const Moment& before,
                                      const network::SequenceStep& step, const Moment& after) {
  std::vector<std::string> words;
  for (const Move& move : step.followed_by)
    words.push_back(moved_by_itself(grounds, move.by, move.position) + ", moved by " +
                    driver_words(device_of(grounds, move)));
  for (const network::SwitchAt& at : step.by_itself) {
    if (at.position != network::unknown)
      words.push_back(moved_by_itself(grounds, at.by, at.position));
  }
  add_followers(grounds, before, after, words);
  return words;
}

/// "the supply" for the supply, which the file calls by that word.
std::string in_sentence(const std::string& name) {
  return name == "supply" ? "the supply" : name;
}

site::Conductors lines_at(const Grounds& grounds, std::size_t element, std::size_t terminal) {
  site::Conductors lines;
  for (const site::Conductor c : {site::Conductor::l1, site::Conductor::l2, site::Conductor::l3})
    if (grounds.network.node(element, terminal, c) != network::no_node) lines.add(c);
  return lines;
}

std::string voltage_words(const Grounds& grounds, std::size_t element, std::size_t terminal) {
  const site::System& system = grounds.site.system;
  const site::Conductors lines = lines_at(grounds, element, terminal);
  const bool neutral = grounds.network.neutral(element, terminal) != network::no_node;
  std::string words;
  if (neutral && system.line_to_earth)
    words = fmt::format("{} {} to N", *system.line_to_earth, site::words(lines));
  if (lines.count() > 1 && system.line_to_line)
    words += fmt::format("{}{} line to line", words.empty() ? "" : ", ", *system.line_to_line);
  return words.empty() ? "voltage" : words;
}

/// Terminals of the moved thing that became alive or dead, and those that stay alive.
void verify_terminals(const Grounds& grounds, const Moment& before, const Moment& after,
                      std::size_t element, std::vector<std::string>& words) {
  std::vector<std::string> dead;
  std::vector<std::string> live;
  for (std::size_t t = 0; t < grounds.site.elements[element].terminals.size(); ++t) {
    if (lines_at(grounds, element, t).empty()) continue;
    const bool was = live_at(grounds, before, element, t);
    const bool is = live_at(grounds, after, element, t);
    const std::string name = terminal_words(grounds.site, element, t);
    if (is && !was)
      words.push_back(fmt::format("voltage at {}: {}", name, voltage_words(grounds, element, t)));
    if (!is && was) dead.push_back(name);
    if (is && was) live.push_back(fmt::format("{} ({})", name, fed_by(grounds, after, element, t)));
  }
  if (!dead.empty()) words.push_back("no voltage at " + fmt::format("{}", fmt::join(dead, ", ")));
  if (!dead.empty() && !live.empty())
    words.push_back("still alive: " + fmt::format("{}", fmt::join(live, ", ")));
}

/// "rotation clockwise, as the supply's"; while the supply is dead only its word can be compared.
std::string rotation_words(const site::Site& site) {
  for (const site::Element& element : site.elements)
    if (const auto* supply = site::facts<site::Supply>(element);
        supply != nullptr && supply->rotation)
      return fmt::format(
          "rotation {}, as the supply's",
          *supply->rotation == site::Rotation::clockwise ? "clockwise" : "anticlockwise");
  return "rotation L1-L2-L3 the same as the supply's";
}

/// A source that has just started and feeds nothing yet is measured before anything hangs on it;
/// at one that joins what is alive already the meter would show the others.
void verify_start(const Grounds& grounds, const Moment& before, const Moment& after,
                  std::size_t source, std::vector<std::string>& words) {
  const network::SourcePoint& point = grounds.network.sources[source];
  if (!live_at(grounds, after, point.element, point.terminal)) return;
  if (live_at(grounds, before, point.element, point.terminal)) {
    words.push_back(
        fmt::format("{} shows that it runs, in step with {}", grounds.name(point.element),
                    in_sentence(fed_by(grounds, before, point.element, point.terminal))));
    return;
  }
  const bool three = lines_at(grounds, point.element, point.terminal).count() == 3;
  std::string text =
      fmt::format("at {}: {}", terminal_words(grounds.site, point.element, point.terminal),
                  voltage_words(grounds, point.element, point.terminal));
  if (grounds.site.system.frequency) text += fmt::format(", {}", *grounds.site.system.frequency);
  if (three) text += ", " + rotation_words(grounds.site);
  words.push_back(text);
}

std::vector<std::string> bonds_of(const Grounds& grounds, const network::Zone& zone) {
  std::vector<std::string> bonds;
  for (const network::BondPoint& bond : zone.bonds)
    bonds.push_back(source_name(grounds.site, bond.element));
  return bonds;
}

bool had_these_bonds(const Grounds& grounds, const Moment& moment, const network::Zone& zone) {
  return std::ranges::any_of(moment.view.zones, [&](const network::Zone& other) {
    return other.sources.front() == zone.sources.front() &&
           bonds_of(grounds, other) == bonds_of(grounds, zone);
  });
}

/// How the right joint of neutral and earth shows at the meter.
std::string bond_words(const Grounds& grounds, const network::Zone& zone) {
  return fmt::format(
      "neutral and earth joined once, at {}: N to PE under 5 V and L to PE as L to N, "
      "on what {} feeds",
      in_sentence(joined(bonds_of(grounds, zone))),
      in_sentence(source_name(grounds.site, zone.sources.front())));
}

/// Where neutral meets earth has changed.
void verify_bonds(const Grounds& grounds, const Moment& before, const Moment& after,
                  std::vector<std::string>& words) {
  for (const network::Zone& zone : after.view.zones) {
    const auto bonds = bonds_of(grounds, zone);
    if (!zone.has_neutral || bonds.empty() || had_these_bonds(grounds, before, zone)) continue;
    words.push_back(bond_words(grounds, zone));
  }
}

void verify_position(const Grounds& grounds, const Move& move, std::vector<std::string>& words) {
  const site::Device* device = device_of(grounds, move);
  const network::Switch& it = switch_of(grounds, move.by);
  const std::string& word = it.positions[static_cast<std::size_t>(move.position)];
  words.push_back(fmt::format(
      "{} stands {}{}{}", grounds.name(it.element), word == "open" || word == "closed" ? "" : "at ",
      word, device != nullptr && device->feedback == true ? ", and its contact reports it" : ""));
}

/// Devices on direct current are opened only without current: common practice.
void mind_current(const Grounds& grounds, const Move& move, std::vector<std::string>& words) {
  const site::Element& element = grounds.site.elements[switch_of(grounds, move.by).element];
  if (!(element.conductors & site::direct_current).empty() &&
      network::is_open_position(grounds.network, move.by, move.position))
    words.push_back("only without current: the inverter stopped, and a clamp meter for DC at zero");
}

std::vector<std::string> cautions_of(const Grounds& grounds, const network::SequenceStep& step) {
  std::vector<std::string> words;
  for (const network::Hazard& hazard : step.passing)
    if (hazard.kind == network::HazardKind::dead_supply_fed)
      words.push_back(fmt::format(
          "until the controllers have acted, {} still reaches the supply's side: its protection "
          "against islanding must end that in the time the distributor asks for",
          grounds.name(hazard.sources.front())));
  if (step.move.kind == Move::Kind::put) {
    mind_current(grounds, step.move, words);
    const site::Device* device = device_of(grounds, step.move);
    if (device != nullptr && device->neutral_timing == site::NeutralTiming::separate)
      words.push_back("neutral pole of its own: neutral closes first and opens last");
  }
  if (step.move.kind == Move::Kind::stop) {
    const std::size_t element = grounds.network.sources[step.move.source].element;
    const auto* set = site::facts<site::Generator>(grounds.site.elements[element]);
    if (set != nullptr && set->cool_down)
      words.push_back(fmt::format("first let it run {} without load", *set->cool_down));
  }
  return words;
}

/// Whether the edge leads a line on from this node.
bool leads_on(const network::Edge& edge, std::uint32_t node) {
  const bool conducts =
      edge.kind != network::EdgeKind::bond && edge.kind != network::EdgeKind::earth;
  return conducts && (edge.a == node || edge.b == node) && site::lines.has(edge.conductor);
}

/// First devices that open, seen from the supply.
std::vector<std::size_t> first_openers(const Grounds& grounds, std::size_t supply) {
  std::set<std::size_t> found;
  std::vector<bool> seen(grounds.network.nodes.size(), false);
  std::vector<std::uint32_t> next = network::line_nodes(grounds.network, supply);
  for (const std::uint32_t node : next)
    seen[node] = true;
  const auto task = grounds.task();
  while (!next.empty()) {
    const std::uint32_t node = next.back();
    next.pop_back();
    for (const network::Edge& edge : grounds.network.edges) {
      if (!leads_on(edge, node)) continue;
      if (edge.by >= 0 && network::may_be_moved(task, edge.by)) {
        found.insert(edge.element);
        continue;
      }
      const std::uint32_t other = edge.a == node ? edge.b : edge.a;
      if (!seen[other]) next.push_back(other);
      seen[other] = true;
    }
  }
  return {found.begin(), found.end()};
}

void verify_dead_supply(const Grounds& grounds, const Moment& end,
                        std::vector<std::string>& words) {
  if (end.view.zones.empty()) return;
  for (std::size_t s = 0; s < grounds.network.sources.size(); ++s) {
    if (!grounds.network.sources[s].utility || end.situation.running[s]) continue;
    std::vector<std::string> names;
    for (const std::size_t element : first_openers(grounds, s))
      names.push_back(grounds.name(element));
    if (!names.empty())
      words.push_back(
          fmt::format("no voltage comes from the site at {}, while the supply is dead: "
                      "{}L to N, L to PE, N to PE",
                      fmt::join(names, ", "), grounds.site.system.phases > 1 ? "L to L, " : ""));
  }
}

/// The supply is measured where it first comes to a device that opens.
void verify_supply(const Grounds& grounds, const Moment& after, std::size_t supply,
                   std::vector<std::string>& words) {
  for (const std::size_t element : first_openers(grounds, supply))
    for (std::size_t t = 0; t < grounds.site.elements[element].terminals.size(); ++t) {
      if (!live_at(grounds, after, element, t)) continue;
      words.push_back(fmt::format("the supply stands, at {}: {}",
                                  terminal_words(grounds.site, element, t),
                                  voltage_words(grounds, element, t)));
      break;
    }
}

/// Residual-current devices of a board's circuits, in the order of the file.
std::vector<std::string> rcds_of(const Grounds& grounds, const Moment& moment,
                                 const std::string& board) {
  std::vector<std::size_t> devices;
  for (const network::Loop& loop : moment.view.loops) {
    const std::size_t assembly = grounds.site.elements[loop.load].assembly;
    if (assembly == none || grounds.site.assemblies[assembly].designation != board) continue;
    for (const network::RcdOnLoop& rcd : loop.rcds)
      if (rcd.sees && std::ranges::count(devices, rcd.element) == 0) devices.push_back(rcd.element);
  }
  std::ranges::sort(devices);
  std::vector<std::string> names;
  for (const std::size_t device : devices)
    names.push_back(grounds.name(device));
  return names;
}

}  // namespace

std::string heading_of(const Grounds& grounds, const Move& move) {
  std::string words = network::words_of(grounds.network, grounds.site, move);
  if (!words.empty() && words.front() >= 'a' && words.front() <= 'z')
    words.front() = static_cast<char>(words.front() - 'a' + 'A');
  return words;
}

ProcedureStep words_of_step(const Grounds& grounds, const Moment& before,
                            const network::SequenceStep& step, const Moment& after) {
  ProcedureStep words{.does = heading_of(grounds, step.move),
                      .who = who_does(grounds, step.move),
                      .by_itself = what_follows(grounds, before, step, after),
                      .before = before.parts,
                      .after = after.parts,
                      .verify = {},
                      .cautions = cautions_of(grounds, step)};
  switch (step.move.kind) {
    case Move::Kind::put:
      verify_position(grounds, step.move, words.verify);
      verify_terminals(grounds, before, after, switch_of(grounds, step.move.by).element,
                       words.verify);
      break;
    case Move::Kind::start:
      verify_start(grounds, before, after, step.move.source, words.verify);
      break;
    case Move::Kind::stop:
      words.verify.push_back(grounds.name(grounds.network.sources[step.move.source].element) +
                             " shows that it has stopped");
      verify_terminals(grounds, before, after, grounds.network.sources[step.move.source].element,
                       words.verify);
      break;
    case Move::Kind::supply_returns:
      verify_supply(grounds, after, step.move.source, words.verify);
      break;
    case Move::Kind::supply_fails:
      for (const Move& move : step.followed_by)
        verify_position(grounds, move, words.verify);
      break;
  }
  verify_bonds(grounds, before, after, words.verify);
  return words;
}

std::vector<std::string> last_checks(const Grounds& grounds, const Moment& start, const Moment& end,
                                     Occasion occasion) {
  std::vector<std::string> words;
  verify_dead_supply(grounds, end, words);
  if (occasion == Occasion::in_use) return words;
  for (const network::Zone& zone : end.view.zones)
    if (zone.has_neutral && !zone.bonds.empty() && had_these_bonds(grounds, start, zone))
      words.push_back(bond_words(grounds, zone));
  for (const FedBoards& fed : end.parts.fed) {
    std::vector<std::string> tests;
    for (const site::Assembly& board : grounds.site.assemblies) {
      const auto rcds = rcds_of(grounds, end, board.designation);
      if (std::ranges::count(fed.places, board.designation) > 0 && !rcds.empty())
        tests.push_back(fmt::format("{}: {}", board.designation, fmt::join(rcds, " ")));
    }
    if (!tests.empty())
      words.push_back(fmt::format("before first use and after work: RCD test on {} at {}",
                                  in_sentence(fed.source), fmt::join(tests, "; ")));
  }
  return words;
}

std::vector<std::string> open_points(const Grounds& grounds,
                                     const std::vector<network::SequenceStep>& steps) {
  std::vector<std::string> open;
  const auto add = [&](std::string words) {
    if (std::ranges::count(open, words) == 0) open.push_back(std::move(words));
  };
  for (const network::SequenceStep& step : steps) {
    if (step.move.kind != Move::Kind::put) continue;
    const network::Switch& it = switch_of(grounds, step.move.by);
    const network::Freedom& freedom = grounds.movement.of[static_cast<std::size_t>(step.move.by)];
    const std::string& name = grounds.name(it.element);
    if (freedom.mover == Mover::not_said)
      add(fmt::format("who moves {} is not said: write 'by hand' or 'by controller'", name));
    const site::Device* device = device_of(grounds, step.move);
    if (device == nullptr || device->kind != site::DeviceKind::changeover) continue;
    const bool has_off = std::ranges::any_of(freedom.positions, [&](int position) {
      return network::is_open_position(grounds.network, step.move.by, position);
    });
    if (!has_off && device->break_before_make != true)
      add(fmt::format("that {} breaks before it makes is not said: write 'break before make: yes'",
                      name));
    if (device->category.empty())
      add(fmt::format("whether {} may switch load is not said: write its 'category'", name));
  }
  return open;
}

}  // namespace linewright::documents
