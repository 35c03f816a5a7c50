#include "input/chains.hpp"

#include <algorithm>
#include <utility>

#include <fmt/core.h>

#include "input/device_line.hpp"
#include "input/device_words.hpp"
#include "input/fields.hpp"
#include "input/nearest.hpp"
#include "input/sections.hpp"
#include "input/values.hpp"
#include "input/words.hpp"

namespace linewright::input {
namespace {

using site::Conductor;
using site::none;

constexpr Choice<Conductor> phases[] = {
    {"L1", Conductor::l1}, {"L2", Conductor::l2}, {"L3", Conductor::l3}};

// Near to "supply" and to no word about devices: said to be no place, and the right word with it.
bool is_misspelt_supply(const std::string& word) {
  constexpr std::string_view supply[] = {"supply"};
  return !nearest(word, supply).empty() && nearest(word, device_vocabulary()).empty();
}

bool is_place(const Node& item) {
  const std::vector<Word> words = words_of(item);
  if (words.size() != 1) return false;
  const std::string& word = words.front().text;
  if (is_designation(word) || word == "supply" || is_misspelt_supply(word)) return true;
  return !is_curve(word) && is_bare_reference(word);
}

bool has_cable_key(const Node& item) {
  return item.is_map() && find_key(item, "cable") != nullptr;
}

// A lone "B16" that the file gives no designation: one has been put before it, at the same place.
bool is_bare_rating(const Node& item) {
  const Node* line = item.is_map() ? find_key(item, "device") : nullptr;
  return line != nullptr && line->is_scalar() && is_curve(line->text) &&
         line->where.line == item.where.line && line->where.column == item.where.column;
}

void read_item(Draft& draft, const Node& item, ChainPlan& plan) {
  if (item.is_scalar() && is_place(item)) {
    plan.items.emplace_back(PlaceName{words_of(item).front().text, item.where});
  } else if (has_cable_key(item) || (item.is_scalar() && is_cable(item.text))) {
    if (std::optional<CableLine> cable = read_cable_node(item, draft.mistakes)) {
      if (cable->designation.empty()) cable->designation = draft.names.next("W");
      plan.items.emplace_back(std::move(*cable));
    }
  } else if (const auto element = read_chain_device(draft, item)) {
    if (is_bare_rating(item)) draft.ratings.push_back({find_key(item, "device")->text, item.where});
    plan.items.emplace_back(*element);
  }
}

// One stop of a chain: where the run from above lands and where the run below starts.
struct Stop {
  std::optional<site::Terminal> in;
  std::optional<site::Terminal> out;
  std::size_t element = none;
  bool is_inline = false;
  Place where;
};

Stop stop_at(Draft& draft, const ChainPlan::Item& item, std::size_t index, std::size_t count) {
  if (const auto* element = std::get_if<std::size_t>(&item)) {
    const site::Element& made = draft.site.elements[*element];
    return Stop{.in = site::Terminal{*element, 0},
                .out = site::Terminal{*element, made.terminals.size() > 1 ? 1U : 0U},
                .element = *element,
                .is_inline = true,
                .where = made.where};
  }
  const auto& name = std::get<PlaceName>(item);
  const bool first = index == 0;
  const bool last = index + 1 == count;
  std::optional<site::Terminal> in;
  std::optional<site::Terminal> out;
  if (!first) in = find_place(draft, name, End::lower);
  if (!last && (first || in)) out = find_place(draft, name, End::upper);
  if (in && out && in->element != out->element) {
    draft.mistakes.add(name.where, fmt::format("{} cannot stand inside a chain", quote(name.text)),
                       "end the chain there and begin another one");
    out = std::nullopt;
  }
  const std::size_t element = in ? in->element : out ? out->element : none;
  return Stop{.in = in, .out = out, .element = element, .is_inline = false, .where = name.where};
}

bool is_single_phase(const site::Element& element) {
  const auto* device = site::facts<site::Device>(element);
  return device != nullptr && device->poles && device->poles->line_poles == 1;
}

bool is_single_phase(const CableLine& cable) {
  if (cable.given) return (*cable.given & site::lines).count() == 1;
  return cable.cores <= (cable.separate_earth ? 2 : 3);
}

struct Layout {
  std::vector<Stop> stops;
  std::vector<std::optional<CableLine>> cables;  ///< before each stop; the first is unused
};

std::optional<Layout> lay_out(Draft& draft, const ChainPlan& chain) {
  Layout layout;
  std::optional<CableLine> cable;
  const auto stops = static_cast<std::size_t>(std::count_if(
      chain.items.begin(), chain.items.end(),
      [](const ChainPlan::Item& item) { return !std::holds_alternative<CableLine>(item); }));
  for (const ChainPlan::Item& item : chain.items) {
    if (const auto* line = std::get_if<CableLine>(&item)) {
      if (cable || layout.stops.empty()) {
        draft.mistakes.add(line->where,
                           cable ? "two cables follow each other" : "the chain begins with a cable",
                           "put the place or device at its upper end before it");
        return std::nullopt;
      }
      cable = *line;
      continue;
    }
    layout.stops.push_back(stop_at(draft, item, layout.stops.size(), stops));
    layout.cables.push_back(std::exchange(cable, std::nullopt));
  }
  if (cable) {
    draft.mistakes.add(cable->where, "the chain ends with a cable",
                       "put the place at its lower end after it");
    return std::nullopt;
  }
  if (layout.stops.size() < 2) {
    draft.mistakes.add(chain.where, "a chain of fewer than two places",
                       "expected a list such as [A1, 5×6 mm² 9 m, -Q3:I]");
    return std::nullopt;
  }
  return layout;
}

// The places in the list of the first and the last stop below a cable.
struct CableSpan {
  std::size_t first;
  std::size_t last = 0;  ///< 0: there is no cable
};

CableSpan span_of_cables(const Layout& layout) {
  CableSpan span{layout.stops.size()};
  for (std::size_t i = 1; i < layout.stops.size(); ++i) {
    if (!layout.cables[i]) continue;
    span.first = std::min(span.first, i);
    span.last = i;
  }
  return span;
}

// Devices before the first cable stand where the chain begins, those after the last where it ends;
// what is between two cables stands by itself.
void put_into_assemblies(Draft& draft, const ChainPlan& chain, const Layout& layout) {
  const auto assembly_of = [&](const Stop& stop) {
    return stop.element == none ? none : draft.site.elements[stop.element].assembly;
  };
  const auto first_of = [](std::size_t a, std::size_t b) { return a != none ? a : b; };
  const std::size_t above = assembly_of(layout.stops.front());
  std::size_t below = assembly_of(layout.stops.back());
  if (layout.stops.back().is_inline) below = first_of(below, chain.owner);
  const CableSpan span = span_of_cables(layout);
  const std::size_t without_cable = first_of(first_of(chain.owner, above), below);
  for (std::size_t i = 0; i < layout.stops.size(); ++i) {
    if (!layout.stops[i].is_inline) continue;
    std::size_t& assembly = draft.site.elements[layout.stops[i].element].assembly;
    if (span.last == 0)
      assembly = without_cable;
    else
      assembly = i < span.first ? above : i >= span.last ? below : none;
  }
}

// A load behind devices that open three lines and no neutral, such as a motor.
bool feeds_load_without_neutral(const Draft& draft, const ChainPlan& chain) {
  bool opens_lines = false;
  for (const ChainPlan::Item& item : chain.items) {
    const auto* element = std::get_if<std::size_t>(&item);
    if (element == nullptr) continue;
    const auto* device = site::facts<site::Device>(draft.site.elements[*element]);
    if (device == nullptr || !device->poles) continue;
    if (device->poles->neutral) return false;
    opens_lines = opens_lines || device->poles->line_poles == 3;
  }
  return chain.ends_in_load && opens_lines;
}

// A PEN that is split at a board is split by the last joint before its busbar.
void split_before(Draft& draft, site::Run& run, RunPlan& plan) {
  if (!draft.split_at || draft.split == none || plan.chain == none) return;
  const std::size_t board = find_assembly(draft, draft.split_at->text);
  const site::Element& end = draft.site.elements[run.to.element];
  if (board == none || end.assembly != board) return;
  draft.split_at.reset();
  draft.site.elements[draft.split].assembly = board;
  const site::Terminal bar = run.to;
  site::Run upper = std::move(run);
  upper.to = {draft.split, 0};
  add_run(draft, std::move(upper), plan);
  run = {.designation = {},
         .where = end.where,
         .from = {draft.split, 1},
         .to = bar,
         .conductors = {},
         .cable = {}};
  plan.cable.reset();
}

}  // namespace

std::optional<Conductor> read_phase(const Node* node, Mistakes& mistakes) {
  return choice(node, phases, mistakes);
}

std::optional<CableLine> read_cable_node(const Node& node, Mistakes& mistakes) {
  if (!node.is_map()) return read_cable(node, mistakes);
  const Fields fields(node, cable_section, mistakes);
  const Node* line = fields.find("cable");
  std::optional<CableLine> cable = read_cable(line == nullptr ? node : *line, mistakes);
  const std::string id = text(fields.find("id"), mistakes);
  if (cable && !id.empty()) cable->designation = id;
  return cable;
}

std::optional<std::size_t> read_chain_device(Draft& draft, const Node& node) {
  std::optional<DeviceLine> device = read_device(node, draft.mistakes);
  if (!device) return std::nullopt;
  return add_element(draft, {.designation = std::move(device->designation),
                             .name = std::move(device->name),
                             .where = device->where,
                             .facts = std::move(device->facts)});
}

void read_chain_items(Draft& draft, const Node& list, ChainPlan& plan) {
  if (list.is_list()) {
    for (const Node& item : list.items)
      read_item(draft, item, plan);
  } else if (list.is_scalar()) {
    read_item(draft, list, plan);
  } else {
    draft.mistakes.add(list.where, "a chain is a list of places, devices and cables",
                       "expected a list such as [A1, 5×6 mm² 9 m, -Q3:I]");
  }
}

ChainPlan read_chain(Draft& draft, const Node& node) {
  ChainPlan plan;
  plan.where = node.where;
  if (!node.is_map()) {
    read_chain_items(draft, node, plan);
    return plan;
  }
  const Fields fields(node, chain_section, draft.mistakes);
  plan.phase = read_phase(fields.find("phase"), draft.mistakes);
  if (const Node* list = fields.find("chain")) read_chain_items(draft, *list, plan);
  return plan;
}

namespace {

// The load's N comes from the device of another circuit.
void borrow_neutral(Draft& draft, const ChainPlan& chain, const site::Terminal& load) {
  if (!chain.neutral_from) return;
  const std::size_t device = find_element(draft, *chain.neutral_from);
  if (device == none) return;
  const std::size_t terminal = draft.site.find_terminal(device, "2");
  if (terminal == none) {
    draft.mistakes.add(
        chain.neutral_from->where,
        fmt::format("{} is not the device of a circuit", quote(chain.neutral_from->text)),
        "name the breaker of the circuit that lends its neutral");
    return;
  }
  add_run(draft,
          {.designation = {},
           .where = chain.neutral_from->where,
           .from = {device, terminal},
           .to = load,
           .conductors = {},
           .cable = {}},
          {.cable = {}, .chain = none, .only = site::Conductors{Conductor::n}});
}

// Whether the run into the lower stop carries one line only: it, or something it joins, is made so.
bool makes_single_phase(const Draft& draft, const Stop& upper, const Stop& lower,
                        const std::optional<CableLine>& cable) {
  if (cable && is_single_phase(*cable)) return true;
  if (lower.element != none && is_single_phase(draft.site.elements[lower.element])) return true;
  return upper.is_inline && is_single_phase(draft.site.elements[upper.element]);
}

site::Run run_between(const Stop& upper, const Stop& lower, const std::optional<CableLine>& cable) {
  site::Run run;
  run.where = cable ? cable->where : lower.where;
  run.from = upper.out.value_or(site::Terminal{});
  run.to = lower.in.value_or(site::Terminal{});
  if (!cable) return run;
  run.designation = cable->designation;
  run.cable = cable->cable;
  return run;
}

}  // namespace

void check_ratings(Draft& draft) {
  for (const PlaceName& rating : draft.ratings) {
    const std::size_t board = find_assembly(draft, rating.text);
    const auto element = draft.by_designation.find("-" + rating.text);
    const bool is_element = element != draft.by_designation.end();
    if (board == none && !is_element) continue;
    const std::string whole = (board == none ? "-" : "+") + rating.text;
    draft.mistakes.add(
        rating.where,
        fmt::format("{} is both the name of {} and the rating of a breaker", quote(rating.text),
                    quote(whole)),
        fmt::format("write {}, or add to the breaker what it is, such as its poles", quote(whole)),
        {{board == none ? draft.site.elements[element->second].where
                        : draft.site.assemblies[board].where,
          "the name is given here"}});
  }
}

void check_ends(Draft& draft) {
  std::vector<std::size_t> runs_at(draft.site.elements.size(), 0);
  for (const site::Run& run : draft.site.runs)
    for (const std::size_t end : {run.from.element, run.to.element})
      ++runs_at[end];
  const auto hangs = [&](const ChainPlan::Item& item) {
    const auto* element = std::get_if<std::size_t>(&item);
    return element != nullptr && runs_at[*element] <= 1;
  };
  for (const ChainPlan& chain : draft.chains)
    if (chain.items.size() > 1 && hangs(chain.items.front()) && hangs(chain.items.back()))
      draft.mistakes.add(chain.where, "neither end of this chain is joined to anything",
                         "begin or end it with a board, a busbar, a source or a device of "
                         "another chain");
}

void join_chain(Draft& draft, const ChainPlan& chain) {
  const std::optional<Layout> layout = lay_out(draft, chain);
  if (!layout) return;
  put_into_assemblies(draft, chain, *layout);
  const std::size_t index = draft.chain_phases.size();
  draft.chain_phases.push_back({chain.phase, chain.where});
  const bool load_without_neutral = feeds_load_without_neutral(draft, chain);
  bool single = chain.phase.has_value();
  for (std::size_t i = 1; i < layout->stops.size(); ++i) {
    const Stop& upper = layout->stops[i - 1];
    const Stop& lower = layout->stops[i];
    const std::optional<CableLine>& cable = layout->cables[i];
    const bool is_last = i + 1 == layout->stops.size();
    single = single || makes_single_phase(draft, upper, lower, cable);
    if (!upper.out || !lower.in) continue;
    site::Run run = run_between(upper, lower, cable);
    RunPlan plan{.cable = cable,
                 .chain = index,
                 .single_phase = single,
                 .load_without_neutral = load_without_neutral};
    if (chain.neutral_from && is_last) plan.without = {Conductor::n};
    if (is_last) split_before(draft, run, plan);
    add_run(draft, std::move(run), std::move(plan));
  }
  const std::optional<site::Terminal>& end = layout->stops.back().in;
  if (end) borrow_neutral(draft, chain, *end);
}

}  // namespace linewright::input
