#include "documents/moment.hpp"

#include <algorithm>
#include <optional>

#include "documents/state_words.hpp"
#include "network/joining.hpp"

namespace linewright::documents {
namespace {

using site::none;

bool is_load(const site::Element& element) {
  return site::facts<site::LoadGroup>(element) != nullptr;
}

/// A board, a bar, or a load outside every board, and the element that tells whether it is alive.
struct Spot {
  std::string board;
  std::string words;
  std::size_t element = none;
};

std::vector<Spot> spots_in(const site::Site& site, std::size_t assembly) {
  std::vector<Spot> bars;
  std::vector<Spot> loads;
  for (std::size_t e = 0; e < site.elements.size(); ++e) {
    const site::Element& element = site.elements[e];
    if (element.assembly != assembly) continue;
    const std::string board = assembly == none ? "" : site.assemblies[assembly].designation;
    const Spot spot{board, board.empty() ? element.designation : board + " " + element.designation,
                    e};
    if (site::facts<site::Busbar>(element) != nullptr) bars.push_back(spot);
    if (is_load(element)) loads.push_back(spot);
  }
  if (assembly == none) bars.insert(bars.end(), loads.begin(), loads.end());
  return bars.empty() ? loads : bars;
}

void add_place(LiveParts& parts, const std::string& source, const std::string& place) {
  if (source.empty()) {
    parts.dead.push_back(place);
    return;
  }
  auto fed = std::ranges::find(parts.fed, source, &FedBoards::source);
  if (fed == parts.fed.end()) fed = parts.fed.insert(parts.fed.end(), {source, {}});
  fed->places.push_back(place);
}

// A source that runs into an open switch feeds no board, but its leads can kill.
std::vector<std::string> sources_without_board(const Grounds& grounds, const Moment& moment,
                                               const LiveParts& parts) {
  std::vector<std::string> found;
  for (const network::Zone& zone : moment.view.zones) {
    if (zone.sources.empty()) continue;
    const std::size_t source = network::source_of(grounds.network, zone.sources.front());
    const network::SourcePoint& point = grounds.network.sources[source];
    const std::string names = fed_by(grounds, moment, point.element, point.terminal);
    if (names.empty() || std::ranges::count(found, names) > 0 ||
        std::ranges::count(parts.fed, names, &FedBoards::source) > 0)
      continue;
    found.push_back(names);
  }
  return found;
}

LiveParts parts_of(const Grounds& grounds, const Moment& moment) {
  LiveParts parts;
  std::vector<std::size_t> assemblies;
  for (std::size_t a = 0; a < grounds.site.assemblies.size(); ++a)
    assemblies.push_back(a);
  assemblies.push_back(none);
  for (const std::size_t assembly : assemblies) {
    const auto spots = spots_in(grounds.site, assembly);
    std::vector<std::string> sources;
    for (const Spot& spot : spots)
      sources.push_back(fed_by(grounds, moment, spot.element, 0));
    const bool alike = assembly != none && std::ranges::all_of(sources, [&](const auto& source) {
                         return source == sources.front();
                       });
    for (std::size_t i = 0; i < spots.size() && !(alike && i > 0); ++i)
      add_place(parts, sources[i], alike ? spots[i].board : spots[i].words);
  }
  parts.leads = sources_without_board(grounds, moment, parts);
  return parts;
}

/// The other end of a run that ends at a terminal.
std::optional<site::Terminal> across_run(const site::Site& site, site::Terminal at) {
  for (const site::Run& run : site.runs) {
    if (run.from == at) return run.to;
    if (run.to == at) return run.from;
  }
  return std::nullopt;
}

/// What the line from a terminal of a device leads to, over other devices outside every enclosure.
std::string end_of_line(const site::Site& site, site::Terminal at) {
  for (std::size_t steps = 0; steps < site.elements.size(); ++steps) {
    const auto next = across_run(site, at);
    if (!next) return {};
    const site::Element& element = site.elements[next->element];
    if (element.assembly != none) return site.assemblies[element.assembly].designation;
    if (site::facts<site::Device>(element) == nullptr || element.terminals.size() != 2)
      return source_name(site, next->element);
    at = {next->element, next->terminal == 0 ? 1U : 0U};
  }
  return {};
}

/// "between -E1 and -T1": where a device stands that no enclosure holds.
std::string line_words(const site::Site& site, std::size_t element) {
  std::vector<std::string> ends;
  for (std::size_t t = 0; t < site.elements[element].terminals.size(); ++t)
    if (std::string end = end_of_line(site, {element, t}); !end.empty())
      ends.push_back(std::move(end));
  if (ends.empty()) return {};
  if (ends.size() == 1 || ends.front() == ends.back()) return "near " + ends.front();
  return "between " + ends.front() + " and " + ends.back();
}

}  // namespace

bool operator==(const LiveParts& a, const LiveParts& b) {
  return a.dead == b.dead && a.leads == b.leads &&
         std::ranges::equal(a.fed, b.fed, [](const FedBoards& x, const FedBoards& y) {
           return x.source == y.source && x.places == y.places;
         });
}

Moment look_at(const Grounds& grounds, const network::Situation& situation) {
  site::State state;
  for (std::size_t s = 0; s < grounds.network.switches.size(); ++s) {
    const network::Switch& it = grounds.network.switches[s];
    const int at = situation.positions.of[s];
    if (at == network::unknown) continue;
    state.positions.push_back(
        {it.element, it.part, it.positions[static_cast<std::size_t>(at)], {}});
  }
  state.running = network::running_elements(grounds.network, situation);
  Moment moment{.view = network::view(grounds.network, grounds.site, state),
                .situation = situation,
                .parts = {}};
  moment.view.state = nullptr;
  moment.parts = parts_of(grounds, moment);
  return moment;
}

bool live_at(const Grounds& grounds, const Moment& moment, std::size_t element,
             std::size_t terminal) {
  return network::alive(grounds.network, moment.view, element, terminal);
}

std::string fed_by(const Grounds& grounds, const Moment& moment, std::size_t element,
                   std::size_t terminal) {
  const auto lines = network::line_nodes(grounds.network, element, terminal);
  std::vector<std::string> sources;
  for (const network::Zone& zone : moment.view.zones)
    for (const std::size_t source : zone.sources) {
      const auto own =
          network::line_nodes(grounds.network, network::source_of(grounds.network, source));
      if (network::any_joined(moment.view, own, lines))
        sources.push_back(source_name(grounds.site, source));
    }
  return joined(sources);
}

std::string terminal_words(const site::Site& site, std::size_t element, std::size_t terminal) {
  const site::Element& it = site.elements[element];
  return it.terminals.size() < 2 ? it.designation : it.designation + ":" + it.terminals[terminal];
}

std::string place_words(const site::Site& site, std::size_t element) {
  const std::size_t assembly = site.elements[element].assembly;
  if (assembly == none) return line_words(site, element);
  const site::Assembly& it = site.assemblies[assembly];
  return "in " + (it.name.empty() ? it.designation : it.designation + " " + it.name);
}

}  // namespace linewright::documents
