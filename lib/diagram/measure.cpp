#include "diagram/measure.hpp"

#include <algorithm>
#include <cmath>

namespace linewright::diagram {
namespace {

using site::none;
using site::Site;

double up_to_module(double value) {
  return std::ceil(value / module_width - 1e-9) * module_width;
}

/// Where the words on a device stand: beside its symbol, or in the table under its column.
enum class Words { beside, in_table };

bool is_interlocked(const Site& site, std::size_t element) {
  for (const site::Interlock& interlock : site.interlocks)
    for (const site::PositionOf& position : interlock.never_together)
      if (position.element == element) return true;
  return false;
}

// Room of a device with its label at its right and, where it has one, its interlock at its left.
Extent device_extent(const Site& site, const Metrics& metrics, std::size_t element, Words words) {
  const SymbolShape& shape = shape_of(metrics, symbol_name(site, element));
  const double right = std::max(shape.bounds.x + shape.bounds.width, 0.0);
  const double left = std::max(-shape.bounds.x, is_interlocked(site, element) ? 6.25 : 0.0);
  if (words == Words::in_table) return {left, right};
  const double label = label_width(metrics, label_of(site, element));
  return {left, right + (label > 0.0 ? label_gap + label : 0.0)};
}

double span(const SymbolShape& shape) {
  double low = 0.0;
  for (const Port& port : shape.ports)
    low = std::max(low, port.at.y);
  return low;
}

// Stacks pieces downwards. Leads of neighbours share room unless a cable lies between them.
Stack stack_up(const Site& site, const Metrics& metrics, const std::vector<Piece>& pieces,
               bool cables_to_ends, Words words = Words::beside) {
  Stack stack;
  double at = 0.0;
  double label_bottom = -1e9;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const Piece& piece = pieces[i];
    if (piece.kind == Piece::Kind::run) {
      const auto lines = cable_lines(site.runs[piece.index], CableLines::narrow);
      const bool shown = !lines.empty() && (cables_to_ends || (i > 0 && i + 1 < pieces.size()));
      const double rows = static_cast<double>(lines.size());
      const double height = shown ? up_to_module(rows * line_pitch + 1.5) : 0.0;
      stack.pieces.push_back({piece, at, height});
      if (shown) stack.extent.cover({1.25, 1.75 + widest(metrics, lines)});
      at += height;
      continue;
    }
    const SymbolShape& shape = shape_of(metrics, symbol_name(site, piece.index));
    const bool follows = i > 0 && at > 0.0 && stack.pieces.back().height <= 0.0;
    if (follows) at -= module_width;
    if (words == Words::beside) at = std::max(at, up_to_module(label_bottom - 3.25));
    const double height = span(shape);
    stack.pieces.push_back({piece, at, height});
    stack.extent.cover(device_extent(site, metrics, piece.index, words));
    const auto rows = static_cast<double>(label_of(site, piece.index).lines.size());
    label_bottom = at + first_line + rows * line_pitch + 0.75;
    at += height;
  }
  const bool ends_in_words = words == Words::beside && label_bottom > 0.0;
  stack.height = ends_in_words ? std::max(at, up_to_module(label_bottom + 0.75)) : at;
  return stack;
}

std::size_t assembly_of(const Site& site, const Piece& piece) {
  return piece.kind == Piece::Kind::element ? site.elements[piece.index].assembly : none;
}

struct Cuts {
  std::size_t upper_end = 0;
  std::size_t lower_begin = 0;
};

// Where the pieces of a chain leave the frame of the upper hub and enter that of the lower one.
Cuts cuts_of(const Site& site, const Plan& plan, const Chain& chain) {
  const Hub& upper = plan.hubs[chain.upper];
  const Hub& lower = plan.hubs[chain.lower];
  const auto& pieces = chain.pieces;
  const auto home = [&](const Hub& hub) {
    return hub.frame == none ? none : plan.frames[hub.frame].assembly;
  };
  Cuts cuts{0, pieces.size()};
  if (upper.frame != none && upper.frame == lower.frame) return {pieces.size(), pieces.size()};
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (pieces[i].kind != Piece::Kind::element) continue;
    const bool stays = assembly_of(site, pieces[i]) == home(upper);
    if (!stays) break;
    cuts.upper_end = i + 1;
  }
  if (lower.frame == none) return cuts;
  for (std::size_t i = pieces.size(); i > cuts.upper_end; --i) {
    if (pieces[i - 1].kind != Piece::Kind::element) continue;
    if (assembly_of(site, pieces[i - 1]) != home(lower)) break;
    cuts.lower_begin = i - 1;
  }
  return cuts;
}

std::vector<std::string> channel_lines(const Site& site, const std::vector<Piece>& pieces,
                                       CableLines shape) {
  std::vector<std::string> lines;
  for (const Piece& piece : pieces) {
    const std::vector<std::string> words = cable_lines(site.runs[piece.index], shape);
    lines.insert(lines.end(), words.begin(), words.end());
  }
  return lines;
}

// The two sides of an inverter stand close to each other; so do tags where room is scarce, and the
// words of a terminal take the right of its conductor.
CableLines lines_of(const Site& site, const Hub& upper, const Hub& lower, Roominess room) {
  if (lower.kind == HubKind::reference_out && lower.frame != none) return room.to_tags;
  if (lower.kind == HubKind::pendant) return CableLines::narrow;
  if (upper.kind != HubKind::inverter) return CableLines::wide;
  const auto& ports = site.elements[upper.element].terminals;
  const bool two = std::find(ports.begin(), ports.end(), "backup") != ports.end();
  return two ? CableLines::narrow : CableLines::wide;
}

bool is_load(const Plan& plan, const Chain& chain) {
  return plan.hubs[chain.lower].kind == HubKind::load;
}

ChainShape shape_chain(const Site& site, const Metrics& metrics, const Plan& plan,
                       const Chain& chain, Roominess room) {
  ChainShape shape;
  const Cuts cuts = cuts_of(site, plan, chain);
  const auto part = [&](std::size_t from, std::size_t to) {
    return std::vector<Piece>(chain.pieces.begin() + static_cast<std::ptrdiff_t>(from),
                              chain.pieces.begin() + static_cast<std::ptrdiff_t>(to));
  };
  const bool within = plan.hubs[chain.upper].frame != none &&
                      plan.hubs[chain.upper].frame == plan.hubs[chain.lower].frame;
  const Words words = is_load(plan, chain) ? Words::in_table : Words::beside;
  std::vector<Piece> upper = part(0, cuts.upper_end);
  const std::size_t end = plan.hubs[chain.lower].element;
  const bool hangs =
      plan.hubs[chain.lower].kind == HubKind::pendant && end != none && !is_met(site.elements[end]);
  if (hangs) upper = {chain.pieces.begin(), chain.pieces.end()};
  if (hangs) upper.push_back({Piece::Kind::element, end});
  shape.upper = stack_up(site, metrics, upper, within || is_source(plan.hubs[chain.upper]), words);
  shape.lower = stack_up(site, metrics, part(cuts.lower_begin, chain.pieces.size()), false);
  if (!hangs) shape.between = part(cuts.upper_end, cuts.lower_begin);
  const bool stacked = std::any_of(shape.between.begin(), shape.between.end(),
                                   [](const Piece& p) { return p.kind == Piece::Kind::element; });
  if (stacked) {
    shape.middle = stack_up(site, metrics, shape.between, !is_load(plan, chain), words);
  } else if (!is_load(plan, chain)) {
    shape.cable = channel_lines(
        site, shape.between, lines_of(site, plan.hubs[chain.upper], plan.hubs[chain.lower], room));
    shape.cable_width = shape.cable.empty() ? 0.0 : 1.75 + widest(metrics, shape.cable);
  }
  return shape;
}

// Branches of one port stand side by side, outwards from the middle of the inverter.
double branch_offset(const SymbolShape& shape, const std::string& port, std::size_t index) {
  const bool known = std::any_of(shape.ports.begin(), shape.ports.end(),
                                 [&](const Port& p) { return p.name == port; });
  const double at = known ? port_of(shape, port).x : port_of(shape, "dc").x;
  const double step = 20.0 * static_cast<double>(index);
  return at < 0.0 ? at - step : at + step;
}

void shape_dc(const Site& site, const Metrics& metrics, const Hub& hub, SourceShape& shape) {
  const SymbolShape& symbol = shape_of(metrics, symbol_name(site, hub.element));
  double tallest = 0.0;
  for (const DcSide& side : hub.dc) {
    for (std::size_t i = 0; i < side.branches.size(); ++i) {
      BranchShape branch{.branch = i, .port = side.port};
      branch.offset = branch_offset(symbol, side.port, i);
      branch.stack = stack_up(site, metrics, side.branches[i].pieces, true);
      if (side.branches.size() > 1) branch.stack.height += module_width;
      const Extent own = branch.stack.extent;
      shape.extent.cover({own.left - branch.offset, own.right + branch.offset});
      double above = 0.0;
      if (side.branches[i].source != none) {
        const Label label = label_of(site, side.branches[i].source);
        const SymbolShape& source = shape_of(metrics, symbol_name(site, side.branches[i].source));
        const double half = std::max(label_width(metrics, label), source.bounds.width) / 2.0;
        shape.extent.cover({half - branch.offset, half + branch.offset});
        above = -source.bounds.y + line_pitch * static_cast<double>(label.lines.size() + 1) + 0.5;
      }
      tallest = std::max(tallest, above);
      shape.branches.push_back(std::move(branch));
    }
  }
  double longest = 0.0;
  for (const BranchShape& branch : shape.branches)
    longest = std::max(longest, branch.stack.height);
  for (BranchShape& branch : shape.branches)
    branch.stack.height = longest;
  shape.symbol_top = up_to_module(tallest + longest);
}

void shape_attachments(const Site& site, const Metrics& metrics, const Hub& hub,
                       SourceShape& shape) {
  const SymbolShape& symbol = shape_of(metrics, symbol_name(site, hub.element));
  double left = -symbol.bounds.x;
  if (!inner_bond_symbol(site, hub.element).empty()) left += inner_bond_room;
  for (const Attachment& attachment : hub.attachments) {
    const double label =
        attachment.element == none ? 0.0 : label_width(metrics, label_of(site, attachment.element));
    left += 10.0 + label;
  }
  shape.extent.cover({left, 0.0});
}

// Designation and name above a supply, from the left end of its bar.
double title_room(const Metrics& metrics, const site::Element& element) {
  return metrics.text_width(element.designation, heading_height, Weight::bold) + 2.0 +
         metrics.text_width(element.name, heading_height, Weight::regular);
}

SourceShape shape_source(const Site& site, const Metrics& metrics, const Hub& hub) {
  SourceShape shape;
  if (hub.kind == HubKind::reference_in) {
    shape.symbol_top = 7.5;
    shape.height = 7.5;
    shape.extent = {2.5, 2.5 + widest(metrics, hub.reference)};
    return shape;
  }
  const std::string name = symbol_name(site, hub.element);
  const SymbolShape& symbol = shape_of(metrics, name);
  const Label label = label_of(site, hub.element);
  shape.extent.cover({-symbol.bounds.x, symbol.bounds.x + symbol.bounds.width + label_gap +
                                            label_width(metrics, label)});
  if (hub.kind == HubKind::inverter) {
    shape_dc(site, metrics, hub, shape);
  } else if (hub.kind == HubKind::supply) {
    shape.symbol_top = 6.25;
    shape.extent.cover({0.0, title_room(metrics, site.elements[hub.element]) - 7.5});
  } else {
    shape.symbol_top = up_to_module(-symbol.bounds.y + 2.5);
  }
  shape_attachments(site, metrics, hub, shape);
  if (hub.kind == HubKind::supply) shape.lead = module_width;
  if (hub.kind == HubKind::generator) {
    const double words =
        symbol.bounds.y + 3.0 + line_pitch * static_cast<double>(label.lines.size());
    shape.lead = std::max(0.0, up_to_module(words - 3.5));
  }
  shape.height = shape.symbol_top + span(symbol) + shape.lead;
  constexpr double bond_and_earth = 30.0;
  if (!hub.attachments.empty() || !inner_bond_symbol(site, hub.element).empty())
    shape.reach = shape.symbol_top + symbol.bounds.y + symbol.bounds.height / 2.0 + bond_and_earth;
  return shape;
}

double name_width(const Metrics& metrics, const site::Assembly& assembly) {
  const double width = metrics.text_width(assembly.designation, heading_height, Weight::bold);
  if (assembly.name.empty()) return width;
  return width + 2.0 + metrics.text_width(assembly.name, heading_height, Weight::regular);
}

// On a tag the name stands below the designation.
double tag_width(const Metrics& metrics, const site::Assembly& assembly) {
  return std::max(metrics.text_width(assembly.designation, heading_height, Weight::bold),
                  widest(metrics, wrapped(metrics, assembly.name, tag_name_width)));
}

double bar_name_width(const Site& site, const Metrics& metrics, const Plan& plan,
                      std::size_t frame) {
  double width = 0.0;
  for (const Hub& hub : plan.hubs) {
    if (hub.kind != HubKind::bar || hub.frame != frame) continue;
    Label label = label_of(site, hub.element);
    if (hub.continued) label.lines = {"continued"};
    width = std::max(width, metrics.text_width(label.designation, text_height, Weight::bold) + 1.5 +
                                widest(metrics, label.lines));
  }
  return width;
}

double tag_height(const Metrics& metrics, const Plan& plan, std::size_t frame,
                  const site::Assembly& assembly) {
  std::size_t lines = wrapped(metrics, assembly.name, tag_name_width).size();
  for (const Hub& hub : plan.hubs)
    if (hub.frame == frame) lines = std::max(lines, lines + hub.reference.size());
  return up_to_module(5.5 + line_pitch * static_cast<double>(lines) + 1.25);
}

// Tags of one tier are alike.
void level_tags(const Plan& plan, Measures& measures) {
  for (std::size_t a = 0; a < plan.frames.size(); ++a)
    for (std::size_t b = 0; b < plan.frames.size(); ++b)
      if (measures.tag_heights[a] > 0.0 && plan.frames[a].tier == plan.frames[b].tier)
        measures.tag_heights[a] = std::max(measures.tag_heights[a], measures.tag_heights[b]);
}

// The residual-current device ahead of each joint; none for other hubs.
std::vector<std::size_t> guards_of(const Site& site, const Plan& plan) {
  std::vector<std::size_t> guards(plan.hubs.size(), none);
  for (std::size_t h = 0; h < plan.hubs.size(); ++h)
    guards[h] = plan.hubs[h].guard;
  for (const Chain& chain : plan.chains) {
    if (plan.hubs[chain.lower].kind != HubKind::joint) continue;
    for (const std::size_t element : elements_of(chain)) {
      const auto* device = site::facts<site::Device>(site.elements[element]);
      if (device == nullptr || !device->residual) continue;
      if (guards[chain.lower] == none) guards[chain.lower] = element;
      break;
    }
  }
  return guards;
}

// Columns as narrow as the widest cell allows, the same for every circuit of the sheet.
TableShape shape_table(const Metrics& metrics, const Measures& measures) {
  TableShape table;
  const bool any = std::any_of(measures.cells.begin(), measures.cells.end(),
                               [](const CircuitCells& cells) { return !cells.circuit.empty(); });
  if (!any) return {.row_height = 0.0, .name_height = 0.0};
  double widest_cell = 8.0;
  double longest_name = 12.0;
  for (const CircuitCells& cells : measures.cells) {
    for (const std::string* cell :
         {&cells.device, &cells.poles, &cells.residual, &cells.cable, &cells.length, &cells.load})
      widest_cell = std::max(widest_cell, metrics.text_width(*cell, text_height, Weight::regular));
    widest_cell =
        std::max(widest_cell, metrics.text_width(cells.circuit, text_height, Weight::bold));
  }
  for (const std::string& name : measures.names)
    longest_name = std::max(longest_name, widest(metrics, name_lines(metrics, name)));
  table.pitch = up_to_module(widest_cell + 0.6);
  table.name_height = up_to_module(longest_name + 2.0);
  return table;
}

}  // namespace

void Extent::cover(Extent other) {
  left = std::max(left, other.left);
  right = std::max(right, other.right);
}

const SymbolShape& shape_of(const Metrics& metrics, const std::string& symbol) {
  static const SymbolShape missing{
      {-2.5, 2.5, 5.0, 10.0}, {{"1", {0.0, 0.0}}, {"2", {0.0, 15.0}}}, "equipment"};
  const auto found = metrics.symbols.find(symbol);
  return found == metrics.symbols.end() ? missing : found->second;
}

Point port_of(const SymbolShape& shape, std::string_view port) {
  for (const Port& candidate : shape.ports)
    if (candidate.name == port) return candidate.at;
  return {};
}

double label_width(const Metrics& metrics, const Label& label) {
  return std::max(metrics.text_width(label.designation, text_height, Weight::bold),
                  widest(metrics, label.lines));
}

double cable_room(const ChainShape& shape) {
  if (shape.cable.empty()) return 0.0;
  return static_cast<double>(shape.cable.size()) * line_pitch + 3.0;
}

bool is_tag(const Plan& plan, std::size_t frame) {
  return std::any_of(plan.hubs.begin(), plan.hubs.end(), [&](const Hub& hub) {
    return hub.frame == frame && hub.kind == HubKind::reference_out;
  });
}

std::vector<std::size_t> elements_of(const Chain& chain) {
  std::vector<std::size_t> elements;
  for (const Piece& piece : chain.pieces)
    if (piece.kind == Piece::Kind::element) elements.push_back(piece.index);
  return elements;
}

const site::Run* cable_of(const Site& site, const Chain& chain) {
  const site::Run* cable = nullptr;
  for (const Piece& piece : chain.pieces)
    if (piece.kind == Piece::Kind::run && site.runs[piece.index].cable)
      cable = &site.runs[piece.index];
  return cable;
}

Measures measure(const Site& site, const Metrics& metrics, const Plan& plan, Roominess room) {
  Measures measures;
  measures.cells.resize(plan.chains.size());
  measures.names.resize(plan.chains.size());
  const std::vector<std::size_t> guards = guards_of(site, plan);
  for (std::size_t i = 0; i < plan.chains.size(); ++i) {
    const Chain& chain = plan.chains[i];
    measures.chains.push_back(shape_chain(site, metrics, plan, chain, room));
    if (!is_load(plan, chain)) continue;
    const std::size_t load = plan.hubs[chain.lower].element;
    const std::size_t guard = guards[chain.upper];
    measures.cells[i] = circuit_cells(site, elements_of(chain), cable_of(site, chain), load,
                                      guard == none ? "" : site.elements[guard].designation);
    measures.names[i] = load == none ? "spare" : site.elements[load].name;
  }
  for (const Hub& hub : plan.hubs)
    measures.sources.push_back(is_source(hub) ? shape_source(site, metrics, hub) : SourceShape{});
  for (std::size_t f = 0; f < plan.frames.size(); ++f) {
    const std::size_t assembly = plan.frames[f].assembly;
    const double width = assembly == none  ? 0.0
                         : is_tag(plan, f) ? tag_width(metrics, site.assemblies[assembly])
                                           : name_width(metrics, site.assemblies[assembly]);
    measures.frame_names.push_back(width);
    measures.bar_names.push_back(bar_name_width(site, metrics, plan, f));
    measures.tag_heights.push_back(is_tag(plan, f) && assembly != none
                                       ? tag_height(metrics, plan, f, site.assemblies[assembly])
                                       : 0.0);
  }
  measures.table = shape_table(metrics, measures);
  if (measures.table.row_height > 0.0) {
    measures.table.pitch += room.pitch;
    measures.table.row_height += room.row;
  }
  level_tags(plan, measures);
  return measures;
}

}  // namespace linewright::diagram
