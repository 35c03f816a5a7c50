#include "draw_states.hpp"

#include <algorithm>
#include <queue>
#include <utility>

#include <fmt/core.h>

#include "documents/state_words.hpp"
#include "documents/states_account.hpp"
#include "network/beyond.hpp"
#include "network/hazard_words.hpp"
#include "network/joining.hpp"
#include "network/neutral_paths.hpp"

namespace linewright {
namespace {

using diagram::Feed;
using diagram::Picture;
using diagram::PictureOf;
using diagram::PictureSet;
using diagram::Piece;
using network::Edge;
using network::EdgeKind;
using network::Network;
using network::StateView;
using network::Zone;
using site::none;
using site::Site;

/// A way through the network, as edges.
using Way = std::vector<std::uint32_t>;

/// Shortest way between two nodes over what is closed; empty if there is none.
template <class May>
Way shortest(const Network& network, const network::Positions& positions, std::uint32_t from,
             std::uint32_t to, May may) {
  constexpr std::uint32_t unseen = 0xffffffffU;
  constexpr std::uint32_t start = 0xfffffffeU;
  std::vector<std::vector<std::uint32_t>> at(network.nodes.size());
  for (std::uint32_t e = 0; e < network.edges.size(); ++e) {
    const Edge& edge = network.edges[e];
    if (network::closed(edge, positions) != network::Closed::yes || !may(edge)) continue;
    at[edge.a].push_back(e);
    at[edge.b].push_back(e);
  }
  std::vector<std::uint32_t> by(network.nodes.size(), unseen);
  std::queue<std::uint32_t> next;
  by[from] = start;
  next.push(from);
  while (!next.empty() && by[to] == unseen) {
    const std::uint32_t node = next.front();
    next.pop();
    for (const std::uint32_t e : at[node]) {
      const Edge& edge = network.edges[e];
      const std::uint32_t other = edge.a == node ? edge.b : edge.a;
      if (by[other] != unseen) continue;
      by[other] = e;
      next.push(other);
    }
  }
  Way way;
  if (by[to] == unseen) return way;
  for (std::uint32_t node = to; by[node] != start;) {
    const Edge& edge = network.edges[by[node]];
    way.push_back(by[node]);
    node = edge.a == node ? edge.b : edge.a;
  }
  std::ranges::reverse(way);
  return way;
}

/// The pieces of the site that a way passes, each once in a row.
std::vector<Piece> pieces_of(const Network& network, const Way& way) {
  std::vector<Piece> pieces;
  for (const std::uint32_t e : way) {
    const Edge& edge = network.edges[e];
    const Piece piece = edge.run != none ? Piece{Piece::Kind::run, edge.run}
                                         : Piece{Piece::Kind::element, edge.element};
    if (piece.index == none) continue;
    if (pieces.empty() || !(pieces.back() == piece)) pieces.push_back(piece);
  }
  return pieces;
}

std::vector<std::vector<Feed>> feeds_of(const Network& network, const Site& site,
                                        const StateView& view) {
  const std::vector<bool> perhaps = network::Beyond(network, site).perhaps_alive(view);
  std::vector<std::vector<Feed>> feeds(site.elements.size());
  for (std::size_t e = 0; e < site.elements.size(); ++e) {
    feeds[e].resize(site.elements[e].terminals.size());
    for (std::size_t t = 0; t < feeds[e].size(); ++t) {
      feeds[e][t].undecided =
          network::any_marked(view, perhaps, network::line_nodes(network, e, t));
      for (const Zone& zone : view.zones)
        for (const std::size_t source : zone.sources) {
          const auto own = network::line_nodes(network, network::source_of(network, source));
          const auto here = network::line_nodes(network, e, t);
          if (network::any_joined(view, own, here))
            feeds[e][t].sources.push_back(source);
          else if (network::any_possibly_joined(view, own, here))
            feeds[e][t].undecided = true;
        }
    }
  }
  return feeds;
}

std::map<diagram::SwitchId, std::string> positions_of(const Network& network,
                                                      const network::Positions& positions) {
  std::map<diagram::SwitchId, std::string> words;
  for (std::size_t s = 0; s < network.switches.size(); ++s) {
    const network::Switch& one = network.switches[s];
    const int at = positions.of[s];
    words[{one.element, one.part}] =
        at == network::unknown ? "?" : one.positions[static_cast<std::size_t>(at)];
  }
  return words;
}

/// The loop of the circuit whose fault is traced, or null where it is dead.
const network::Loop* loop_of(const StateView& view, std::size_t load) {
  for (const network::Loop& loop : view.loops)
    if (loop.load == load) return &loop;
  return nullptr;
}

void trace_fault(const Network& network, const StateView& view, std::size_t load,
                 Picture& picture) {
  const network::Loop* loop = loop_of(view, load);
  if (loop == nullptr) return;
  const auto from = network::line_nodes(network, network::source_of(network, loop->source));
  const auto over_lines = [](const Edge& edge) {
    return edge.kind != EdgeKind::bond && edge.kind != EdgeKind::earth &&
           site::lines.has(edge.conductor);
  };
  for (const std::uint32_t to : network::line_nodes(network, load, 0))
    for (const std::uint32_t start : from)
      if (picture.fault_out.empty() && view.joined(start, to))
        picture.fault_out =
            pieces_of(network, shortest(network, view.positions, start, to, over_lines));
  const std::uint32_t earth = network.node(load, 0, site::Conductor::pe);
  const std::uint32_t neutral = network::source_neutral(network, loop->source);
  if (earth == network::no_node || neutral == network::no_node) return;
  const bool ground = loop->return_path == network::ReturnPath::through_earth;
  const auto home = [&](const Edge& edge) {
    return !site::lines.has(edge.conductor) &&
           (ground ||
            (edge.kind != EdgeKind::earth && edge.a != network.earth && edge.b != network.earth));
  };
  picture.fault_home = pieces_of(network, shortest(network, view.positions, earth, neutral, home));
}

std::string list_of(const Site& site, const std::vector<std::size_t>& elements) {
  std::vector<std::string> words;
  for (const std::size_t element : elements)
    words.push_back(documents::source_name(site, element));
  return documents::joined(words);
}

std::string running_line(const Site& site, const StateView& view) {
  std::string words;
  for (const Zone& zone : view.zones) {
    words += (words.empty() ? "runs: " : "; ") + list_of(site, zone.sources);
    if (!zone.following.empty()) words += ", followed by " + list_of(site, zone.following);
  }
  return words.empty() ? "nothing runs" : words;
}

std::string bond_line(const Site& site, const Network& network, const StateView& view) {
  std::string words;
  for (const Zone& zone : view.zones) {
    std::vector<std::size_t> places;
    for (const network::BondPoint& bond : zone.bonds)
      places.push_back(bond.element);
    const std::string at = places.empty() ? "neutral not joined to earth"
                                          : "neutral joined to earth at " + list_of(site, places);
    words += fmt::format("{}{}: {}", words.empty() ? "" : "; ", at,
                         documents::earthing_kind(site, network, view, zone));
  }
  return words;
}

/// The designation a circuit is known by: that of its device.
std::string circuit_name(const check::AnalysedSite& analysed, std::size_t load) {
  for (const StateView& view : analysed.states)
    if (const network::Loop* loop = loop_of(view, load);
        loop != nullptr && !loop->line_guards.empty())
      return analysed.name(loop->line_guards.back());
  return analysed.name(load);
}

std::string fault_line(const check::AnalysedSite& analysed, const StateView& view,
                       std::size_t load) {
  if (load == none || loop_of(view, load) == nullptr) return {};
  return fmt::format("earth fault of {} seen by {}", circuit_name(analysed, load),
                     documents::rcds_that_see(analysed.site, view, load));
}

Picture picture_of(const check::AnalysedSite& analysed, const StateView& view, std::size_t load) {
  const Site& site = analysed.site;
  Picture picture{.name = view.name(), .heading = view.name()};
  picture.feeds = feeds_of(analysed.network, site, view);
  picture.positions = positions_of(analysed.network, view.positions);
  picture.running = view.state->running;
  for (const Zone& zone : view.zones)
    for (const network::BondPoint& bond : zone.bonds)
      picture.bonds.push_back(bond.element);
  if (load != none) trace_fault(analysed.network, view, load, picture);
  for (std::string line : {running_line(site, view), bond_line(site, analysed.network, view),
                           fault_line(analysed, view, load)})
    if (!line.empty()) picture.lines.push_back(std::move(line));
  return picture;
}

std::string hazard_words(const check::AnalysedSite& analysed, const network::Hazard& hazard) {
  const std::string source = list_of(analysed.site, hazard.sources);
  const std::string load = hazard.load == none ? "" : circuit_name(analysed, hazard.load);
  switch (hazard.kind) {
    case network::HazardKind::sources_joined:
      return list_of(analysed.site, hazard.sources) + " joined out of step";
    case network::HazardKind::dead_supply_fed:
      return "dead supply fed by " + source;
    case network::HazardKind::neutral_without_bond:
      return source + ": neutral not joined to earth";
    case network::HazardKind::neutral_bonded_twice:
      return source + ": neutral joined to earth more than once";
    case network::HazardKind::load_without_rcd:
      return load + ": no RCD sees its earth fault";
    case network::HazardKind::unsupported_load_alive:
      return load + " alive while the supply is dead";
  }
  return {};
}

/// The situation as a state, so that it is looked at as the named ones are.
site::State state_of(const check::AnalysedSite& analysed, const network::Situation& situation) {
  site::State state;
  state.running = network::running_elements(analysed.network, situation);
  for (std::size_t s = 0; s < analysed.network.switches.size(); ++s) {
    const network::Switch& one = analysed.network.switches[s];
    const int at = situation.positions.of[s];
    if (at == network::unknown) continue;
    state.positions.push_back({.element = one.element,
                               .part = one.part,
                               .position = one.positions[static_cast<std::size_t>(at)],
                               .where = {}});
  }
  return state;
}

/// The element of a source that a move starts or stops; the supply where it fails or returns.
std::size_t moved_source(const check::AnalysedSite& analysed, const network::Move& move) {
  const auto& sources = analysed.network.sources;
  if (move.source != none) return sources[move.source].element;
  const auto utility = std::ranges::find_if(sources, &network::SourcePoint::utility);
  return utility == sources.end() ? none : utility->element;
}

/// Hazards of one kind in one situation make one picture.
std::vector<network::Refutation> gathered(const std::vector<network::Refutation>& hazards) {
  std::vector<network::Refutation> kept;
  for (const network::Refutation& one : hazards) {
    const auto same = std::ranges::find_if(kept, [&](const network::Refutation& other) {
      return other.hazard.kind == one.hazard.kind && other.hazard.load == one.hazard.load &&
             other.situation.positions.of == one.situation.positions.of &&
             other.situation.running == one.situation.running;
    });
    if (same == kept.end())
      kept.push_back(one);
    else if (one.hazard.kind != network::HazardKind::sources_joined)
      for (const std::size_t source : one.hazard.sources)
        if (std::ranges::count(same->hazard.sources, source) == 0)
          same->hazard.sources.push_back(source);
  }
  return kept;
}

Picture hazard_picture(const check::AnalysedSite& analysed, const network::Refutation& hazard,
                       std::size_t number) {
  const site::State state = state_of(analysed, hazard.situation);
  const StateView view = network::view(analysed.network, analysed.site, state);
  Picture picture = picture_of(analysed, view, none);
  picture.of = PictureOf::hazard;
  picture.name = fmt::format("hazard {}", number);
  picture.heading = hazard_words(analysed, hazard.hazard);
  picture.lines.insert(picture.lines.begin(),
                       "from " + network::way_words(analysed.network, analysed.site, hazard));
  picture.emphasised = pieces_of(analysed.network, hazard.path);
  for (const network::Move& move : hazard.moves) {
    if (move.kind != network::Move::Kind::put) {
      picture.moved.emplace_back(moved_source(analysed, move), "runs");
      continue;
    }
    const network::Switch& one = analysed.network.switches[static_cast<std::size_t>(move.by)];
    picture.moved.emplace_back(one.element, one.part);
  }
  return picture;
}

bool is_backup(const Site& site, std::size_t element) {
  const auto* load = site::facts<site::LoadGroup>(site.elements[element]);
  if (load == nullptr) return false;
  const std::size_t assembly = site.elements[element].assembly;
  const auto service =
      load->service || assembly == none ? load->service : site.assemblies[assembly].service;
  return service == site::Service::backup;
}

/// The first backup circuit that is alive in the most states; any circuit where none is backup.
std::size_t traced_circuit(const check::AnalysedSite& analysed) {
  std::size_t best = none;
  std::size_t best_worth = 0;
  for (std::size_t e = 0; e < analysed.site.elements.size(); ++e) {
    if (site::facts<site::LoadGroup>(analysed.site.elements[e]) == nullptr) continue;
    std::size_t worth = is_backup(analysed.site, e) ? 1000 : 0;
    for (const StateView& view : analysed.states)
      worth += loop_of(view, e) != nullptr ? 1U : 0U;
    if (worth <= best_worth) continue;
    best = e;
    best_worth = worth;
  }
  return best;
}

/// Switches that some picture does not have closed; changeovers are points of the layout anyway.
std::vector<diagram::SwitchId> drawn_switches(const std::vector<Picture>& pictures) {
  std::vector<diagram::SwitchId> drawn;
  for (const Picture& picture : pictures)
    for (const auto& [id, position] : picture.positions)
      if (position != "closed" && id.second.empty() && std::ranges::count(drawn, id) == 0)
        drawn.push_back(id);
  std::ranges::sort(drawn);
  return drawn;
}

/// The supply first, then the others as the file has them.
std::vector<std::size_t> sources_in_order(const Network& network) {
  std::vector<std::size_t> sources;
  for (const bool utility : {true, false})
    for (const network::SourcePoint& point : network.sources)
      if (point.utility == utility && std::ranges::count(sources, point.element) == 0)
        sources.push_back(point.element);
  return sources;
}

}  // namespace

diagram::PictureSet pictures_of(const check::AnalysedSite& analysed,
                                const std::vector<network::Refutation>& hazards) {
  PictureSet set;
  set.faulty = traced_circuit(analysed);
  if (set.faulty != none) {
    const std::string& words = analysed.element(set.faulty).name;
    set.faulty_name = circuit_name(analysed, set.faulty) + (words.empty() ? "" : " " + words);
  }
  set.sources = sources_in_order(analysed.network);
  for (const StateView& view : analysed.states)
    set.pictures.push_back(picture_of(analysed, view, set.faulty));
  for (const network::Refutation& hazard : gathered(hazards))
    set.pictures.push_back(
        hazard_picture(analysed, hazard, set.pictures.size() - analysed.states.size() + 1));
  set.switches = drawn_switches(set.pictures);
  return set;
}

}  // namespace linewright
