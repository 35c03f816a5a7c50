#include <algorithm>
#include <numeric>
#include <optional>

#include "diagram/plan.hpp"

namespace linewright::diagram {

bool is_source(const Hub& hub) {
  return hub.kind == HubKind::supply || hub.kind == HubKind::generator ||
         hub.kind == HubKind::inverter || hub.kind == HubKind::reference_in;
}

bool is_series(const site::Element& element) {
  if (element.terminals.size() != 2) return false;
  if (const auto* device = site::facts<site::Device>(element))
    return device->kind != site::DeviceKind::changeover;
  return site::facts<site::PenSplit>(element) != nullptr ||
         site::facts<site::Connector>(element) != nullptr ||
         site::facts<site::Meter>(element) != nullptr ||
         site::facts<site::Transformer>(element) != nullptr;
}

bool is_met(const site::Element& element) {
  return site::facts<site::MainEarthingTerminal>(element) != nullptr;
}

namespace {

using site::none;
using site::Site;
using Node = std::size_t;  ///< a terminal, numbered through the whole site

bool ends_in_earth(const site::Element& element) {
  return site::facts<site::Bond>(element) != nullptr ||
         site::facts<site::SurgeProtector>(element) != nullptr ||
         site::facts<site::Electrode>(element) != nullptr ||
         site::facts<site::MainEarthingTerminal>(element) != nullptr;
}

std::optional<HubKind> own_hub(const site::Element& element) {
  if (site::facts<site::Supply>(element) != nullptr) return HubKind::supply;
  if (site::facts<site::Generator>(element) != nullptr) return HubKind::generator;
  if (site::facts<site::Inverter>(element) != nullptr) return HubKind::inverter;
  if (site::facts<site::Busbar>(element) != nullptr) return HubKind::bar;
  if (site::facts<site::LoadGroup>(element) != nullptr) return HubKind::load;
  const auto* device = site::facts<site::Device>(element);
  if (device != nullptr && device->kind == site::DeviceKind::changeover) return HubKind::changeover;
  return std::nullopt;
}

bool holds_earths_aside(HubKind kind) {
  return kind == HubKind::supply || kind == HubKind::generator || kind == HubKind::inverter;
}

/// What is known while the site is contracted.
struct Work {
  const Site& site;
  Plan plan;
  std::vector<Node> first_node;                    ///< by element
  std::vector<std::size_t> element_of;             ///< by node
  std::vector<std::vector<std::size_t>> power_at;  ///< power runs by node
  std::vector<std::vector<std::size_t>> earth_at;  ///< runs to earth by node
  std::vector<bool> run_taken;
  std::vector<bool> element_taken;
  std::vector<std::size_t> hub_at;  ///< by node
  std::vector<std::size_t> hub_of;  ///< by element

  Node node(site::Terminal terminal) const {
    return first_node[terminal.element] + terminal.terminal;
  }
  const std::string& port(Node at) const {
    const std::size_t element = element_of[at];
    return site.elements[element].terminals[at - first_node[element]];
  }
  const site::Element& element(Node at) const { return site.elements[element_of[at]]; }
};

/// What a run is to the layout: part of a chain, a way to earth, or a single neutral led astray.
enum class RunKind { power, earth, stray };

RunKind kind_of(const Site& site, const site::Run& run) {
  const site::Element& from = site.elements[run.from.element];
  const site::Element& to = site.elements[run.to.element];
  if (ends_in_earth(from) || ends_in_earth(to)) return RunKind::earth;
  const site::Conductors live = run.conductors - site::Conductors{site::Conductor::pe};
  if (live.empty()) return RunKind::earth;
  const bool at_load =
      site::facts<site::LoadGroup>(from) != nullptr || site::facts<site::LoadGroup>(to) != nullptr;
  return at_load && live == site::Conductors{site::Conductor::n} ? RunKind::stray : RunKind::power;
}

bool is_power(const Site& site, const site::Run& run) {
  return kind_of(site, run) == RunKind::power;
}

Work start(const Site& site) {
  Work work{.site = site};
  for (std::size_t i = 0; i < site.elements.size(); ++i) {
    work.first_node.push_back(work.element_of.size());
    work.element_of.insert(work.element_of.end(),
                           std::max<std::size_t>(site.elements[i].terminals.size(), 1), i);
  }
  const std::size_t nodes = work.element_of.size();
  work.power_at.resize(nodes);
  work.earth_at.resize(nodes);
  work.hub_at.assign(nodes, none);
  work.hub_of.assign(site.elements.size(), none);
  work.run_taken.assign(site.runs.size(), false);
  work.element_taken.assign(site.elements.size(), false);
  for (std::size_t i = 0; i < site.runs.size(); ++i) {
    const site::Run& run = site.runs[i];
    const RunKind kind = kind_of(site, run);
    if (kind == RunKind::stray) continue;
    auto& at = kind == RunKind::power ? work.power_at : work.earth_at;
    at[work.node(run.from)].push_back(i);
    at[work.node(run.to)].push_back(i);
  }
  return work;
}

Node other_end(const Work& work, std::size_t run, Node from) {
  const Node a = work.node(work.site.runs[run].from);
  return a == from ? work.node(work.site.runs[run].to) : a;
}

// The second terminal of an element that stands in series.
Node opposite(const Work& work, Node at) {
  const Node first = work.first_node[work.element_of[at]];
  return at == first ? first + 1 : first;
}

// Follows the direct current from a terminal of the inverter upwards; a joint opens branches.
void collect_branches(Work& work, Node at, std::vector<Piece> below, DcSide& side) {
  for (const std::size_t run : work.power_at[at]) {
    if (work.run_taken[run]) continue;
    work.run_taken[run] = true;
    std::vector<Piece> pieces = below;
    pieces.push_back({Piece::Kind::run, run});
    const Node far = other_end(work, run, at);
    const std::size_t element = work.element_of[far];
    if (work.element_taken[element]) continue;
    work.element_taken[element] = true;
    below.clear();
    if (!is_series(work.site.elements[element])) {
      std::reverse(pieces.begin(), pieces.end());
      side.branches.push_back({element, std::move(pieces)});
      continue;
    }
    pieces.push_back({Piece::Kind::element, element});
    const Node beyond = opposite(work, far);
    const std::size_t known = side.branches.size();
    collect_branches(work, beyond, pieces, side);
    if (side.branches.size() == known) {
      std::reverse(pieces.begin(), pieces.end());
      side.branches.push_back({none, std::move(pieces)});
    }
  }
}

void make_own_hubs(Work& work) {
  for (std::size_t i = 0; i < work.site.elements.size(); ++i) {
    const auto kind = own_hub(work.site.elements[i]);
    if (!kind || work.element_taken[i]) continue;
    work.element_taken[i] = true;
    work.hub_of[i] = work.plan.hubs.size();
    Hub hub{.kind = *kind, .element = i};
    if (*kind == HubKind::inverter) {
      for (std::size_t t = 0; t < work.site.elements[i].terminals.size(); ++t) {
        const std::string& port = work.site.elements[i].terminals[t];
        if (port != "pv" && port != "battery") continue;
        DcSide side{.port = port};
        collect_branches(work, work.first_node[i] + t, {}, side);
        hub.dc.push_back(std::move(side));
      }
    }
    work.plan.hubs.push_back(std::move(hub));
  }
}

std::size_t degree(const Work& work, Node at, bool with_earths) {
  std::size_t count = 0;
  for (const std::size_t run : work.power_at[at])
    count += work.run_taken[run] ? 0U : 1U;
  return count + (with_earths ? work.earth_at[at].size() : 0);
}

// A terminal where more than one run lands becomes a joint of its own, unless it is a bar.
void make_joints(Work& work) {
  for (Node at = 0; at < work.element_of.size(); ++at) {
    const std::size_t element = work.element_of[at];
    const std::size_t own = work.hub_of[element];
    const bool port_hub = own != none && work.plan.hubs[own].kind != HubKind::bar &&
                          work.plan.hubs[own].kind != HubKind::load;
    if (own != none) work.hub_at[at] = own;
    if (!port_hub && !is_series(work.site.elements[element])) continue;
    if (work.element_taken[element] && own == none) continue;
    const bool aside = own != none && holds_earths_aside(work.plan.hubs[own].kind);
    if (degree(work, at, !aside) < 2) continue;
    work.hub_at[at] = work.plan.hubs.size();
    work.plan.hubs.push_back({.kind = HubKind::joint, .element = element});
  }
}

// Joints that a bare run inside one assembly links are one joint; so are a joint and its bar.
void merge_joints(Work& work) {
  for (std::size_t i = 0; i < work.site.runs.size(); ++i) {
    const site::Run& run = work.site.runs[i];
    if (run.cable || work.run_taken[i] || !is_power(work.site, run)) continue;
    const std::size_t a = work.hub_at[work.node(run.from)];
    const std::size_t b = work.hub_at[work.node(run.to)];
    if (a == none || b == none || a == b) continue;
    const auto kind_a = work.plan.hubs[a].kind;
    const auto kind_b = work.plan.hubs[b].kind;
    const bool joins = (kind_a == HubKind::joint && kind_b == HubKind::joint) ||
                       (kind_a == HubKind::joint && kind_b == HubKind::bar) ||
                       (kind_a == HubKind::bar && kind_b == HubKind::joint);
    const bool same = work.site.elements[run.from.element].assembly ==
                      work.site.elements[run.to.element].assembly;
    if (!joins || !same) continue;
    const std::size_t keep = kind_a == HubKind::bar ? a : b;
    const std::size_t drop = keep == a ? b : a;
    for (std::size_t& hub : work.hub_at)
      if (hub == drop) hub = keep;
    auto& inner = work.plan.hubs[drop].inner_runs;
    work.plan.hubs[keep].inner_runs.insert(work.plan.hubs[keep].inner_runs.end(), inner.begin(),
                                           inner.end());
    inner.clear();
    work.plan.hubs[keep].inner_runs.push_back(i);
    work.run_taken[i] = true;
  }
}

std::string port_name(const Work& work, std::size_t hub, Node at) {
  const HubKind kind = work.plan.hubs[hub].kind;
  const bool has_ports = kind == HubKind::supply || kind == HubKind::generator ||
                         kind == HubKind::inverter || kind == HubKind::changeover;
  return has_ports ? work.port(at) : std::string();
}

// Walks on from a terminal of an element that stands in series until a hub is reached.
void walk_through(Work& work, Chain chain, Node entered) {
  Node at = entered;
  while (true) {
    const std::size_t element = work.element_of[at];
    chain.pieces.push_back({Piece::Kind::element, element});
    work.element_taken[element] = true;
    const Node exit = opposite(work, at);
    if (work.hub_at[exit] != none) {
      chain.lower = work.hub_at[exit];
      break;
    }
    const auto next = std::find_if(work.power_at[exit].begin(), work.power_at[exit].end(),
                                   [&](std::size_t run) { return !work.run_taken[run]; });
    if (next == work.power_at[exit].end()) {
      chain.lower = work.plan.hubs.size();
      work.plan.hubs.push_back({.kind = HubKind::load});
      break;
    }
    work.run_taken[*next] = true;
    chain.pieces.push_back({Piece::Kind::run, *next});
    at = other_end(work, *next, exit);
    if (work.hub_at[at] == none && is_series(work.element(at)) &&
        !work.element_taken[work.element_of[at]])
      continue;
    if (work.hub_at[at] == none) return;
    chain.lower = work.hub_at[at];
    chain.lower_port = port_name(work, chain.lower, at);
    break;
  }
  work.plan.chains.push_back(std::move(chain));
}

void walk_from(Work& work, std::size_t hub, Node at) {
  for (const std::size_t run : work.power_at[at]) {
    if (work.run_taken[run]) continue;
    work.run_taken[run] = true;
    Chain chain{.upper = hub, .upper_port = port_name(work, hub, at)};
    chain.pieces.push_back({Piece::Kind::run, run});
    const Node far = other_end(work, run, at);
    if (work.hub_at[far] != none) {
      chain.lower = work.hub_at[far];
      chain.lower_port = port_name(work, chain.lower, far);
      work.plan.chains.push_back(std::move(chain));
    } else if (is_series(work.element(far)) && !work.element_taken[work.element_of[far]]) {
      walk_through(work, std::move(chain), far);
    } else {
      work.run_taken[run] = false;
      work.plan.loose_runs.push_back(run);
    }
  }
}

// Chains in the order of the file: of the elements, of their terminals, of the runs there.
void make_chains(Work& work) {
  for (Node at = 0; at < work.element_of.size(); ++at) {
    const std::size_t hub = work.hub_at[at];
    if (hub == none) continue;
    const std::size_t element = work.element_of[at];
    const std::size_t own = work.hub_of[element];
    if (own != none && own != hub) {
      Chain chain{.upper = own, .lower = hub};
      chain.upper_port = port_name(work, own, at);
      work.plan.chains.push_back(std::move(chain));
    } else if (own == none && !work.element_taken[element]) {
      walk_through(work, {.upper = hub}, at);
    }
    walk_from(work, hub, at);
  }
}

// The hub where a run to earth lands: that of its terminal, else the first bar of the assembly.
std::size_t earth_hub(const Work& work, Node at) {
  if (work.hub_at[at] != none) return work.hub_at[at];
  const std::size_t assembly = work.element(at).assembly;
  for (std::size_t i = 0; i < work.plan.hubs.size() && assembly != none; ++i) {
    const Hub& hub = work.plan.hubs[i];
    if (hub.kind == HubKind::bar && work.site.elements[hub.element].assembly == assembly) return i;
  }
  return none;
}

void hang(Work& work, std::size_t hub, std::size_t element, std::size_t run) {
  const bool aside = holds_earths_aside(work.plan.hubs[hub].kind);
  if (aside && (element == none || !is_met(work.site.elements[element]))) {
    work.plan.hubs[hub].attachments.push_back({element, run});
    return;
  }
  Chain chain{.upper = hub, .lower = work.plan.hubs.size()};
  chain.pieces.push_back({Piece::Kind::run, run});
  work.plan.hubs.push_back({.kind = HubKind::pendant, .element = element});
  if (element != none) work.hub_of[element] = chain.lower;
  work.plan.chains.push_back(std::move(chain));
}

// Runs to earth in the order of the file, but those that end at a bar first: the main earthing
// terminal is to hang below its board rather than beside a machine.
std::vector<std::size_t> earth_runs(const Work& work) {
  std::vector<std::size_t> runs;
  for (const bool at_bar : {true, false}) {
    for (std::size_t i = 0; i < work.site.runs.size(); ++i) {
      const site::Run& run = work.site.runs[i];
      if (kind_of(work.site, run) != RunKind::earth) continue;
      const auto bar = [&](site::Terminal end) {
        return site::facts<site::Busbar>(work.site.elements[end.element]) != nullptr;
      };
      if ((bar(run.from) || bar(run.to)) == at_bar) runs.push_back(i);
    }
  }
  return runs;
}

// One end of the run hangs: the main earthing terminal below its board, others where they stand.
void hang_earths(Work& work) {
  std::vector<std::size_t> electrodes;
  for (const std::size_t i : earth_runs(work)) {
    const site::Run& run = work.site.runs[i];
    const bool to_earths = ends_in_earth(work.site.elements[run.to.element]);
    const site::Terminal earth = to_earths ? run.to : run.from;
    const site::Terminal live = to_earths ? run.from : run.to;
    const bool both = to_earths && ends_in_earth(work.site.elements[run.from.element]);
    if (both) {
      electrodes.push_back(i);
      continue;
    }
    const bool free =
        ends_in_earth(work.site.elements[earth.element]) && !work.element_taken[earth.element];
    const std::size_t hub = earth_hub(work, work.node(live));
    if (hub == none) {
      work.plan.loose_runs.push_back(i);
      continue;
    }
    hang(work, hub, free ? earth.element : none, i);
    if (free) work.element_taken[earth.element] = true;
    work.run_taken[i] = true;
  }
  for (const std::size_t i : electrodes) {
    const site::Run& run = work.site.runs[i];
    const std::size_t met =
        is_met(work.site.elements[run.from.element]) ? run.from.element : run.to.element;
    const std::size_t other = met == run.from.element ? run.to.element : run.from.element;
    if (work.hub_of[met] == none || work.element_taken[other]) {
      work.plan.loose_runs.push_back(i);
      continue;
    }
    work.plan.hubs[work.hub_of[met]].attachments.push_back({other, i});
    work.element_taken[other] = true;
  }
}

}  // namespace

Plan contract(const Site& site) {
  Work work = start(site);
  make_own_hubs(work);
  make_joints(work);
  merge_joints(work);
  make_chains(work);
  hang_earths(work);
  for (std::size_t i = 0; i < site.runs.size(); ++i) {
    if (kind_of(site, site.runs[i]) != RunKind::earth && !work.run_taken[i] &&
        std::find(work.plan.loose_runs.begin(), work.plan.loose_runs.end(), i) ==
            work.plan.loose_runs.end())
      work.plan.loose_runs.push_back(i);
  }
  for (std::size_t i = 0; i < site.elements.size(); ++i)
    if (!work.element_taken[i]) work.plan.loose_elements.push_back(i);
  return std::move(work.plan);
}

}  // namespace linewright::diagram
