#include "documents/states_account.hpp"

#include <algorithm>

#include <fmt/core.h>

#include "documents/state_words.hpp"
#include "network/beyond.hpp"
#include "network/hazard_words.hpp"
#include "network/joining.hpp"
#include "network/neutral_paths.hpp"
#include "network/proof.hpp"

namespace linewright::documents {
namespace {

using network::Loop;
using network::Network;
using network::ReturnPath;
using network::StateView;
using network::Zone;
using site::none;
using site::Site;

const std::string nothing = "–";

/// What all parts of the account are made from.
struct Facts {
  const Site& site;
  const Network& network;
  const std::vector<StateView>& states;
  std::vector<std::vector<bool>> perhaps;  ///< by state, what may be alive unfollowed

  /// Whether a terminal may be alive though no source is seen to reach it.
  bool perhaps_alive(const StateView& view, std::size_t element, std::size_t terminal) const {
    const auto state = static_cast<std::size_t>(&view - states.data());
    return network::any_marked(view, perhaps[state],
                               network::line_nodes(network, element, terminal));
  }
};

template <class Cell>
AccountRow row(const Facts& facts, std::string subject, std::string name, Cell cell) {
  AccountRow made{.subject = std::move(subject), .name = std::move(name)};
  for (const StateView& view : facts.states)
    made.cells.push_back(cell(view));
  return made;
}

std::string position_word(const network::Switch& device, int position) {
  return position == network::unknown ? "?" : device.positions[static_cast<std::size_t>(position)];
}

AccountSection switches_part(const Facts& facts) {
  AccountSection section{.part = AccountPart::switches};
  for (const std::size_t s : moving_switches(facts.network, facts.states, GridContacts::shown)) {
    const network::Switch& device = facts.network.switches[s];
    section.rows.push_back(
        row(facts, switch_name(facts.site, device), facts.site.elements[device.element].name,
            [&](const StateView& view) { return position_word(device, view.positions.of[s]); }));
  }
  return section;
}

std::string running_word(const StateView& view, std::size_t source) {
  const auto has = [&](const std::vector<std::size_t>& list) {
    return std::ranges::count(list, source) > 0;
  };
  for (const Zone& zone : view.zones) {
    if (has(zone.sources)) return "runs";
    if (has(zone.following)) return "follows";
  }
  return has(view.state->running) ? "waits" : nothing;
}

AccountSection sources_part(const Facts& facts) {
  AccountSection section{.part = AccountPart::sources};
  std::vector<std::size_t> done;
  for (const network::SourcePoint& source : facts.network.sources) {
    if (std::ranges::count(done, source.element) > 0) continue;
    done.push_back(source.element);
    section.rows.push_back(row(
        facts, source_name(facts.site, source.element), facts.site.elements[source.element].name,
        [&](const StateView& view) { return running_word(view, source.element); }));
  }
  return section;
}

/// The sources that form the voltage on the lines of a terminal.
std::string fed_by(const Facts& facts, const StateView& view, std::size_t element,
                   std::size_t terminal) {
  const auto lines = network::line_nodes(facts.network, element, terminal);
  std::vector<std::string> sure;
  bool perhaps = false;
  for (const Zone& zone : view.zones)
    for (const std::size_t source : zone.sources) {
      const auto own =
          network::line_nodes(facts.network, network::source_of(facts.network, source));
      if (network::any_joined(view, own, lines))
        sure.push_back(source_name(facts.site, source));
      else if (network::any_possibly_joined(view, own, lines))
        perhaps = true;
    }
  perhaps = perhaps || facts.perhaps_alive(view, element, terminal);
  if (sure.empty()) return perhaps ? "?" : "dead";
  return joined(sure) + (perhaps ? " ?" : "");
}

/// The bars of an assembly; its circuits where it has none.
std::vector<std::size_t> bars_of(const Site& site, std::size_t assembly) {
  std::vector<std::size_t> bars;
  std::vector<std::size_t> loads;
  for (std::size_t e = 0; e < site.elements.size(); ++e) {
    if (site.elements[e].assembly != assembly) continue;
    if (site::facts<site::Busbar>(site.elements[e]) != nullptr) bars.push_back(e);
    if (site::facts<site::LoadGroup>(site.elements[e]) != nullptr) loads.push_back(e);
  }
  return bars.empty() ? loads : bars;
}

void add_board(const Facts& facts, std::size_t assembly, AccountSection& section) {
  const site::Assembly& board = facts.site.assemblies[assembly];
  std::vector<AccountRow> rows;
  for (const std::size_t bar : bars_of(facts.site, assembly))
    rows.push_back(row(facts, board.designation + " " + facts.site.elements[bar].designation,
                       board.name,
                       [&](const StateView& view) { return fed_by(facts, view, bar, 0); }));
  const bool alike = std::ranges::all_of(
      rows, [&](const AccountRow& other) { return other.cells == rows.front().cells; });
  if (alike && !rows.empty()) {
    rows.resize(1);
    rows.front().subject = board.designation;
  }
  section.rows.insert(section.rows.end(), rows.begin(), rows.end());
}

AccountSection boards_part(const Facts& facts) {
  AccountSection section{.part = AccountPart::boards};
  for (std::size_t a = 0; a < facts.site.assemblies.size(); ++a)
    add_board(facts, a, section);
  for (std::size_t e = 0; e < facts.site.elements.size(); ++e) {
    const site::Element& element = facts.site.elements[e];
    const bool point = site::facts<site::LoadGroup>(element) != nullptr ||
                       site::facts<site::Busbar>(element) != nullptr;
    if (element.assembly == none && point)
      section.rows.push_back(row(facts, element.designation, element.name,
                                 [&](const StateView& view) { return fed_by(facts, view, e, 0); }));
  }
  return section;
}

std::string bond_cell(const Site& site, const Zone& zone) {
  std::vector<std::string> places;
  for (const network::BondPoint& bond : zone.bonds)
    places.push_back(source_name(site, bond.element));
  std::string words = fmt::format("{}", zone.bonds.size());
  if (!places.empty()) words += " at " + joined(places);
  std::vector<std::string> open;
  for (const network::BondPoint& bond : zone.undecided_bonds)
    open.push_back(source_name(site, bond.element));
  if (!open.empty()) words += ", ? " + joined(open);
  return words;
}

/// One row for each source that leads a zone in some state.
template <class Cell>
AccountSection zones_part(const Facts& facts, AccountPart part, Cell cell) {
  AccountSection section{.part = part};
  for (const network::SourcePoint& source : facts.network.sources) {
    const auto led = [&](const StateView& view) -> const Zone* {
      for (const Zone& zone : view.zones)
        if (zone.sources.front() == source.element) return &zone;
      return nullptr;
    };
    const auto leads = [&](const StateView& view) { return led(view) != nullptr; };
    if (std::ranges::none_of(facts.states, leads)) continue;
    section.rows.push_back(
        row(facts, source_name(facts.site, source.element), "", [&](const StateView& view) {
          const Zone* zone = led(view);
          return zone == nullptr ? nothing : cell(view, *zone);
        }));
  }
  return section;
}

std::string sees(const Site& site, const Loop& loop) {
  std::string words;
  for (const network::RcdOnLoop& rcd : loop.rcds)
    if (rcd.sees) words += (words.empty() ? "" : " ") + site.elements[rcd.element].designation;
  if (!words.empty()) return words;
  return loop.possible_return != loop.return_path ? "?" : "none";
}

std::string last_device(const Facts& facts, std::size_t load) {
  for (const StateView& view : facts.states)
    for (const Loop& loop : view.loops)
      if (loop.load == load && !loop.line_guards.empty())
        return facts.site.elements[loop.line_guards.back()].designation;
  return {};
}

AccountSection rcds_part(const Facts& facts) {
  AccountSection section{.part = AccountPart::rcds};
  for (std::size_t e = 0; e < facts.site.elements.size(); ++e) {
    const site::Element& element = facts.site.elements[e];
    if (site::facts<site::LoadGroup>(element) == nullptr) continue;
    section.rows.push_back(
        row(facts, element.designation, element.name, [&](const StateView& view) {
          const bool unseen = facts.perhaps_alive(view, e, 0);
          const std::string words = rcds_that_see(facts.site, view, e);
          return unseen ? (words == nothing ? "?" : words + " ?") : words;
        }));
    if (element.assembly != none)
      section.rows.back().group = facts.site.assemblies[element.assembly].designation;
    section.rows.back().device = last_device(facts, e);
  }
  return section;
}

void sort_fixed(const Facts& facts, StatesAccount& account) {
  for (std::size_t s = 0; s < facts.network.switches.size(); ++s) {
    const int first = facts.states.front().positions.of[s];
    const network::Switch& device = facts.network.switches[s];
    const bool same = std::ranges::all_of(
        facts.states, [&](const StateView& view) { return view.positions.of[s] == first; });
    if (!same || first == network::unknown) continue;
    const std::string& word = device.positions[static_cast<std::size_t>(first)];
    std::string name = switch_name(facts.site, device);
    if (word != "closed" && word != "open") name += " " + word;
    (word == "open" ? account.always_open : account.always_closed).push_back(std::move(name));
  }
}

/// "where -Q5 stands (grid, island)" for what is so in these states.
template <class So>
void note_states(const Facts& facts, const std::string& what, So so, StatesAccount& account) {
  std::string states;
  for (const StateView& view : facts.states)
    if (so(view)) states += (states.empty() ? "" : ", ") + view.name();
  if (!states.empty()) account.not_known.push_back(fmt::format("{} ({})", what, states));
}

void note_unknown(const Facts& facts, StatesAccount& account) {
  for (const std::size_t element : network::not_followed(facts.network, facts.site))
    account.not_known.push_back(network::not_followed_words(facts.site, element));
  for (std::size_t s = 0; s < facts.network.switches.size(); ++s)
    note_states(
        facts, "where " + switch_name(facts.site, facts.network.switches[s]) + " stands",
        [&](const StateView& view) { return view.positions.of[s] == network::unknown; }, account);
  for (std::size_t e = 0; e < facts.site.elements.size(); ++e) {
    const auto left_open = [&](const StateView& view) {
      return std::ranges::any_of(facts.network.edges, [&](const network::Edge& edge) {
        const bool placed =
            edge.by == network::fixed ||
            view.positions.of[static_cast<std::size_t>(edge.by)] != network::unknown;
        return edge.element == e && placed &&
               network::closed(edge, view.positions) == network::Closed::undecided;
      });
    };
    note_states(facts, "which conductors " + facts.site.elements[e].designation + " joins",
                left_open, account);
  }
}

}  // namespace

std::string earthing_kind(const Site& site, const Network& network, const StateView& state,
                          const Zone& zone) {
  if (!zone.has_neutral) return nothing;
  if (zone.bonds.empty() && zone.undecided_bonds.empty()) return "IT";
  const bool combined = std::ranges::any_of(zone.sources, [&](std::size_t source) {
    const auto& point = network.sources[network::source_of(network, source)];
    return network.node(source, point.terminal, site::Conductor::pen) != network::no_node;
  });
  std::vector<std::string> kinds;
  for (const Loop& loop : state.loops) {
    if (std::ranges::count(zone.sources, loop.source) == 0) continue;
    if (loop.return_path != loop.possible_return)
      kinds.emplace_back("?");
    else if (loop.return_path == ReturnPath::metallic)
      kinds.emplace_back(combined ? "TN-C-S" : "TN-S");
    else
      kinds.emplace_back(loop.return_path == ReturnPath::through_earth ? "TT" : "no way home");
  }
  if (!kinds.empty()) return joined(kinds);
  // Nothing is fed from it: the supply is as declared.
  const auto* supply = site::facts<site::Supply>(site.elements[zone.sources.front()]);
  return supply == nullptr ? nothing : std::string(earthing_mark(*supply));
}

std::string rcds_that_see(const Site& site, const StateView& state, std::size_t load) {
  std::vector<std::pair<std::string, std::string>> by_source;
  for (const Loop& loop : state.loops)
    if (loop.load == load) by_source.emplace_back(source_name(site, loop.source), sees(site, loop));
  if (by_source.empty()) return nothing;
  const bool alike = std::ranges::all_of(
      by_source, [&](const auto& one) { return one.second == by_source.front().second; });
  if (alike) return by_source.front().second;
  std::string words;
  for (const auto& [source, seen] : by_source)
    words += fmt::format("{}{}: {}", words.empty() ? "from " : "; from ", source, seen);
  return words;
}

StatesAccount states_account(const Site& site, const Network& network,
                             const std::vector<StateView>& states) {
  StatesAccount account;
  if (states.empty()) return account;
  Facts facts{site, network, states, {}};
  const network::Beyond beyond(network, site);
  for (const StateView& view : states)
    facts.perhaps.push_back(beyond.perhaps_alive(view));
  for (const StateView& view : states)
    account.states.push_back(view.name());
  account.sections.push_back(switches_part(facts));
  account.sections.push_back(sources_part(facts));
  account.sections.push_back(boards_part(facts));
  account.sections.push_back(
      zones_part(facts, AccountPart::bonds,
                 [&](const StateView&, const Zone& zone) { return bond_cell(site, zone); }));
  account.sections.push_back(
      zones_part(facts, AccountPart::earthing, [&](const StateView& view, const Zone& zone) {
        return earthing_kind(site, network, view, zone);
      }));
  account.sections.push_back(rcds_part(facts));
  sort_fixed(facts, account);
  note_unknown(facts, account);
  return account;
}

}  // namespace linewright::documents
