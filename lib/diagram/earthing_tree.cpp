#include "diagram/earthing_tree.hpp"

#include <algorithm>
#include <utility>

#include <fmt/core.h>

#include "diagram/plan.hpp"
#include "diagram/site_facts.hpp"
#include "diagram/wording.hpp"
#include "units/print.hpp"

namespace linewright::diagram {
namespace {

using site::none;
using site::Site;

/// Where protective conductors meet: an assembly, or an element outside all of them.
struct Spot {
  std::size_t assembly = none;
  std::size_t element = none;
  friend bool operator==(const Spot&, const Spot&) = default;
};

Spot spot_of(const Site& site, std::size_t element) {
  const site::Element& what = site.elements[element];
  const bool apart = is_met(what) || site::facts<site::Electrode>(what) != nullptr ||
                     site::facts<site::Bond>(what) != nullptr;
  if (!apart && what.assembly != none) return {what.assembly, none};
  return {none, element};
}

// "PE 10 mm² Cu", with the cable it runs in.
std::vector<std::string> conductor_words(const site::Run& run) {
  if (!run.cable) return {};
  const site::Cable& cable = *run.cable;
  const auto size = cable.earth_cross_section ? cable.earth_cross_section : cable.cross_section;
  const std::string mark = run.conductors.has(site::Conductor::pen) ? "PEN" : "PE";
  std::vector<std::string> lines;
  if (!run.designation.empty()) lines.push_back("in " + run.designation);
  lines.push_back(size ? fmt::format("{} {} {}", mark, print(*size), cable.material)
                       : fmt::format("{}, size {}", mark, not_stated));
  return lines;
}

/// The earthing of a site under way.
struct Builder {
  const Site& site;
  std::vector<bool> used;  ///< runs

  EarthNode node_of(const Spot& spot) const {
    if (spot.assembly != none) {
      const site::Assembly& assembly = site.assemblies[spot.assembly];
      EarthNode node{.end = EarthEnd::board, .designation = assembly.designation};
      if (!assembly.name.empty()) node.words.push_back(assembly.name);
      return node;
    }
    const site::Element& element = site.elements[spot.element];
    EarthNode node{.designation = element.designation};
    if (const auto* electrode = site::facts<site::Electrode>(element)) {
      node.end = EarthEnd::electrode;
      node.symbol = symbol_name(site, spot.element);
      node.words.push_back(electrode->type.empty() ? "type not stated" : electrode->type);
      node.words.push_back(electrode->resistance ? "RA " + print(*electrode->resistance)
                                                 : "RA not stated");
      if (electrode->measured) node.words.push_back("measured " + print(*electrode->measured));
      return node;
    }
    if (const auto* bond = site::facts<site::Bond>(element)) {
      node.end = EarthEnd::joint;
      node.symbol = symbol_name(site, spot.element);
      node.words.push_back(bond->cross_section ? "N–PE " + print(*bond->cross_section)
                                               : "N–PE, size not stated");
      node.words.push_back(bond_words(element));
      return node;
    }
    if (!element.name.empty()) node.words.push_back(element.name);
    if (const std::string bond = bond_words(element); !bond.empty())
      node.words.push_back("N–PE: " + bond);
    return node;
  }

  // The place a joint of neutral and earth is made at.
  std::string joint_place(std::size_t bond) const {
    for (const site::Run& run : site.runs) {
      if (run.from.element == bond) return site.elements[run.to.element].designation;
      if (run.to.element == bond) return site.elements[run.from.element].designation;
    }
    return {};
  }

  bool passes(const Spot& spot) const {
    return spot.assembly == none && is_series(site.elements[spot.element]);
  }

  bool is_load(std::size_t element) const {
    return site::facts<site::LoadGroup>(site.elements[element]) != nullptr;
  }

  /// A place that is reached, with the conductor that leads there.
  struct Reached {
    Spot spot;
    std::vector<std::string> conductor;
  };

  // What is one conductor away; equipment in series is passed.
  std::vector<Reached> next_to(const Spot& from) {
    std::vector<Reached> result;
    for (std::size_t r = 0; r < site.runs.size(); ++r) {
      const site::Run& run = site.runs[r];
      if (used[r] || (run.conductors & site::earths).empty()) continue;
      const Spot a = spot_of(site, run.from.element);
      const Spot b = spot_of(site, run.to.element);
      if ((a == from) == (b == from)) continue;
      const std::size_t other = a == from ? run.to.element : run.from.element;
      if (is_load(other)) continue;
      used[r] = true;
      Reached reached{a == from ? b : a, conductor_words(run)};
      if (!passes(reached.spot)) {
        result.push_back(std::move(reached));
        continue;
      }
      for (Reached& further : next_to(reached.spot)) {
        if (further.conductor.empty()) further.conductor = reached.conductor;
        result.push_back(std::move(further));
      }
    }
    return result;
  }

  EarthNode tree(std::size_t met) {
    std::vector<Spot> seen{{none, met}};
    EarthNode root{.end = EarthEnd::terminal, .designation = site.elements[met].designation};
    grow(root, seen.front(), seen);
    return root;
  }

  void grow(EarthNode& node, const Spot& spot, std::vector<Spot>& seen) {
    std::vector<std::pair<std::size_t, Spot>> inner;
    for (const Reached& reached : next_to(spot)) {
      if (std::find(seen.begin(), seen.end(), reached.spot) != seen.end()) continue;
      seen.push_back(reached.spot);
      EarthNode child = node_of(reached.spot);
      child.conductor = reached.conductor;
      if (child.end == EarthEnd::joint)
        if (const std::string place = joint_place(reached.spot.element); !place.empty())
          child.words.push_back("neutral of " + place);
      inner.emplace_back(node.children.size(), reached.spot);
      node.children.push_back(std::move(child));
    }
    for (const auto& [index, next] : inner)
      if (node.children[index].end == EarthEnd::board ||
          node.children[index].end == EarthEnd::equipment)
        grow(node.children[index], next, seen);
  }
};

// Equipment from which something else is bonded is a bar like that of a board.
void settle_ends(EarthNode& node) {
  for (EarthNode& child : node.children)
    settle_ends(child);
  if (node.end == EarthEnd::equipment && !node.children.empty()) node.end = EarthEnd::board;
}

}  // namespace

EarthNode earthing_tree(const Site& site) {
  const std::size_t met = main_earthing_terminal(site);
  if (met == none) return {.end = EarthEnd::terminal};
  Builder builder{site, std::vector<bool>(site.runs.size(), false)};
  EarthNode root = builder.tree(met);
  const auto& facts = *site::facts<site::MainEarthingTerminal>(site.elements[met]);
  for (EarthNode& child : root.children)
    if (child.end == EarthEnd::electrode && child.conductor.empty())
      child.conductor = {"earthing conductor", facts.earthing_conductor
                                                   ? print(*facts.earthing_conductor)
                                                   : std::string("size not stated")};
  for (const site::BondingConductor& bonding : facts.bonding)
    root.children.push_back(
        {.end = EarthEnd::metalwork,
         .conductor = {"bonding", bonding.cross_section ? print(*bonding.cross_section)
                                                        : std::string("size not stated")},
         .words = {bonding.to},
         .symbol = "equipotential-bonding"});
  settle_ends(root);
  // What goes into the ground stands first, then what is bonded.
  std::ranges::stable_partition(root.children, [](const EarthNode& child) {
    return child.end == EarthEnd::electrode || child.end == EarthEnd::metalwork;
  });
  return root;
}

std::vector<std::string> unsaid_of_earthing(const Site& site) {
  std::vector<std::string> lines;
  const std::size_t met = main_earthing_terminal(site);
  const auto* terminal =
      met == none ? nullptr : site::facts<site::MainEarthingTerminal>(site.elements[met]);
  bool electrodes = false;
  std::string frames;
  for (const site::Element& element : site.elements) {
    electrodes = electrodes || site::facts<site::Electrode>(element) != nullptr;
    if (site::facts<site::PvArray>(element) != nullptr)
      frames += (frames.empty() ? "" : ", ") + element.designation;
    const auto* electrode = site::facts<site::Electrode>(element);
    if (electrode != nullptr && electrode->type.empty())
      lines.push_back("type of the electrode " + element.designation);
    if (electrode != nullptr && !electrode->resistance)
      lines.push_back("resistance of the electrode " + element.designation);
  }
  if (!electrodes) lines.emplace_back("any earth electrode of the site");
  if (electrodes && (terminal == nullptr || !terminal->earthing_conductor))
    lines.emplace_back("size of the earthing conductor (earthing: conductor)");
  const bool bonded = terminal != nullptr && !terminal->bonding.empty();
  if (!bonded)
    lines.emplace_back("bonding of pipes, structure and other services (earthing: bonding)");
  bool frames_said = false;
  if (bonded)
    for (const site::BondingConductor& bonding : terminal->bonding)
      frames_said = frames_said || bonding.to.find("PV") != std::string::npos;
  if (!frames.empty() && !frames_said)
    lines.push_back("bonding of the module frames of " + frames +
                    " (earthing: bonding: PV frames)");
  return lines;
}

}  // namespace linewright::diagram
