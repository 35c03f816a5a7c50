// The site while it is being read, and what only its reading needs to know.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <unordered_map>
#include <variant>
#include <vector>

#include "input/cable_line.hpp"
#include "input/mistakes.hpp"
#include "input/names.hpp"
#include "input/node.hpp"
#include "site/site.hpp"

namespace linewright::input {

/// A place named in the file, not yet looked up.
struct PlaceName {
  std::string text;
  Place where;
};

/// A chain with its elements made and its ends still names.
struct ChainPlan {
  using Item = std::variant<PlaceName, std::size_t, CableLine>;  ///< the number is an element
  std::vector<Item> items;
  Place where;
  std::optional<site::Conductor> phase;  ///< of a single-phase chain, where it is given
  std::size_t owner = site::none;        ///< the assembly that it is written under
  bool ends_in_load = false;
  std::optional<PlaceName> neutral_from;  ///< the circuit that its load takes its N from
};

/// What a run is made of besides its ends.
struct RunPlan {
  std::optional<CableLine> cable;
  std::size_t chain = site::none;
  bool single_phase = false;             ///< it, or something above it in its chain, is
  bool load_without_neutral = false;     ///< its chain feeds a load and opens no neutral
  std::optional<site::Conductors> only;  ///< all that it carries: bonds, earths, borrowed N
  site::Conductors without;              ///< never carries these
};

/// A single-phase chain's choice.
struct ChainPhase {
  std::optional<site::Conductor> phase;
  Place where;
};

/// The site as far as it is read.
struct Draft {
  Draft(Mistakes& to, Names& given) : mistakes(to), names(given) {}

  site::Site site;
  Mistakes& mistakes;
  Names& names;
  std::vector<ChainPlan> chains;
  std::vector<PlaceName> ratings;        ///< items of chains that are one breaker's rating: "B16"
  std::vector<RunPlan> run_plans;        ///< one for each run of the site
  std::vector<ChainPhase> chain_phases;  ///< one for each chain that was joined
  std::unordered_map<std::string, std::size_t> by_designation;
  std::unordered_map<std::string, std::size_t> assembly_by_designation;
  std::unordered_map<std::string, Place> cables;        ///< by designation
  std::vector<std::size_t> bars;                        ///< of each assembly; none if it has none
  std::vector<std::map<std::string, PlaceName>> ports;  ///< of each assembly
  std::unordered_map<std::size_t, int> phases_of;       ///< sources: how many
  std::unordered_map<std::size_t, site::Conductor> phase_of;  ///< single-phase sources: which
  std::size_t supply = site::none;
  std::size_t earth_terminal = site::none;
  std::size_t supply_end = site::none;  ///< what the word `supply` means in a chain
  std::size_t split = site::none;
  std::optional<PlaceName> split_at;  ///< the board at which the PEN is split
  bool supplier_earth = true;         ///< joined where the supply brings one
};

/// What an element is made from.
struct NewElement {
  std::string designation;
  std::string name;
  Place where;
  std::size_t assembly = site::none;
  site::Facts facts;
};

/// Adds an element with the terminals of its kind; its index. Reports a designation that is taken
/// or is no designation. An empty one is made.
std::size_t add_element(Draft& draft, NewElement element);

/// Adds a run; its index.
std::size_t add_run(Draft& draft, site::Run run, RunPlan plan);

/// The element of a name with or without its sign; none after reporting that there is none.
std::size_t find_element(Draft& draft, const PlaceName& name);

/// The terminal that a place means, at the upper or the lower end of a chain; none after reporting.
enum class End { upper, lower };
std::optional<site::Terminal> find_place(Draft& draft, const PlaceName& name, End end);

/// The assembly of a name with or without its sign; none if there is none, which is not reported.
std::size_t find_assembly(const Draft& draft, std::string_view name);

/// The words of a scalar as a name; none if it is no scalar, which is reported.
std::optional<PlaceName> name_of(const Node* node, Mistakes& mistakes);

}  // namespace linewright::input
