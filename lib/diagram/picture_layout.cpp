#include "diagram/picture_layout.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/core.h>

#include "diagram/picture_draw.hpp"

namespace linewright::diagram {
namespace {

using site::none;
using Hanging = PictureHub::Hanging;

constexpr double device_height = 15.0;  // of the symbols of the library, in their mm

/// What is measured from.
struct Measured {
  const PicturePlan& what;
  const PictureSet& set;
  const Metrics& metrics;  ///< with the lettering enlarged
  double scale;

  double paper(double mm) const { return mm / scale; }
  double words(const std::string& text, Weight weight = Weight::regular) const {
    return metrics.text_width(text, text_height, weight);
  }
};

// The words beside a switch: its designation, and the longest of its positions.
double device_width(const Measured& in, std::size_t element, Words words) {
  double width = in.words("closed");
  for (const Picture& picture : in.set.pictures)
    for (const auto& [id, position] : picture.positions)
      if (id.first == element) width = std::max(width, in.words(position_words(position)));
  const double name = in.words(in.what.site.elements[element].designation, Weight::bold);
  if (words != Words::in_line) return in.paper(device_words) + std::max(width, name);
  return in.paper(device_words + words_gap) + width + name;
}

constexpr double arm_reach = 5.0;  // of a switch to its left, in the library's mm

double arm_room(const Measured& in) {
  return std::max(arm_reach, in.paper(2.2));
}

Extent device_room(const Measured& in, std::size_t element, Words words) {
  if (site::facts<site::PenSplit>(in.what.site.elements[element]) != nullptr)
    return {in.paper(bond_room), in.paper(1.5)};
  const double width = device_width(in, element, words);
  if (words == Words::left) return {arm_room(in) + width, in.paper(line_room)};
  return {arm_room(in), width};
}

Stack stacked(const Measured& in, const std::vector<std::size_t>& devices, Words words) {
  constexpr double two_lines = 12.0;  // mm, with room for ways of faults above and below
  const double beyond =
      words == Words::in_line ? 0.0 : std::max(0.0, in.paper(two_lines) - device_height) / 2.0;
  Stack stack;
  for (const std::size_t device : devices) {
    if (!stack.empty() && beyond == 0.0) stack.height -= module_width;
    stack.height += beyond;
    stack.pieces.push_back({{Piece::Kind::element, device}, stack.height, device_height});
    stack.height += device_height + beyond;
    stack.extent.cover(device_room(in, device, words));
  }
  return stack;
}

Stack hanging_stack(const Measured& in, const PictureHub& hub) {
  Stack stack;
  if (hub.hanging == Hanging::stub) {
    stack.height = in.paper(stub_height);
    const double half = in.words(circuits_in_words(hub.circuits)) / 2.0;
    stack.extent = {half, half};
  } else {
    stack.height = in.paper(earth_height);
    const std::string& name = in.what.site.elements[hub.element].designation;
    stack.extent = {in.paper(2.2), in.paper(device_words) + in.words(name, Weight::bold)};
  }
  return stack;
}

// Switches stand in the frame of the hub whose assembly they belong to.
ChainShape shape_of_chain(const Measured& in, const Chain& chain, Words words) {
  const Plan& plan = in.what.plan;
  const Hub& upper = plan.hubs[chain.upper];
  const Hub& lower = plan.hubs[chain.lower];
  const auto home = [&](const Hub& hub) {
    return hub.frame == none ? none : plan.frames[hub.frame].assembly;
  };
  const bool within = upper.frame != none && upper.frame == lower.frame;
  std::vector<std::size_t> above;
  std::vector<std::size_t> between;
  std::vector<std::size_t> below;
  for (const Piece& piece : chain.pieces) {
    if (piece.kind != Piece::Kind::element || !is_drawn(in.what.site, in.set, piece.index))
      continue;
    const std::size_t place = in.what.site.elements[piece.index].assembly;
    if (within || (upper.frame != none && place == home(upper) && between.empty()))
      above.push_back(piece.index);
    else if (lower.frame != none && place == home(lower))
      below.push_back(piece.index);
    else
      between.push_back(piece.index);
  }
  ChainShape shape{.upper = stacked(in, above, words),
                   .middle = stacked(in, between, words),
                   .lower = stacked(in, below, words)};
  for (const std::size_t device : between)
    shape.between.push_back({Piece::Kind::element, device});
  // Below a changeover, its words stand between the ways of a fault into it and along the next bar.
  constexpr double beside_changeover = 7.4;  // mm
  if (upper.kind == HubKind::changeover)
    shape.upper.height = std::max(shape.upper.height, in.paper(beside_changeover) - device_height);
  const PictureHub& end = in.what.hubs[chain.lower];
  shape.along = {in.paper(line_room), in.paper(line_room)};
  if (end.hanging != Hanging::nothing) {
    if (!shape.middle.empty()) {
      shape.upper = stacked(in, between, words);
      shape.between.clear();
    }
    shape.middle = hanging_stack(in, end);
    if (end.hanging == Hanging::stub) shape.along.cover(shape.middle.extent);
  }
  return shape;
}

SourceShape shape_of_source(const Measured& in, const Hub& hub) {
  SourceShape shape;
  if (hub.kind == HubKind::reference_in) {
    shape.symbol_top = in.paper(source_label);
    shape.height = shape.symbol_top;
    shape.extent = {2.5, 2.5 + widest(in.metrics, hub.reference)};
    return shape;
  }
  const SymbolShape& symbol = shape_of(in.metrics, symbol_name(in.what.site, hub.element));
  const bool inverter = hub.kind == HubKind::inverter;
  const double half = inverter ? std::max(symbol.bounds.width / 2.0, in.paper(inverter_half))
                               : symbol.bounds.width / 2.0;
  const std::string& name = in.what.site.elements[hub.element].designation;
  const double label = in.paper(5.2) + in.words(name, Weight::bold);
  const double bonds =
      in.paper(bond_room) * static_cast<double>(bonds_at(in.what.site, hub).size());
  shape.extent = {half + bonds, std::max(half, label - half)};
  double low = 0.0;
  for (const Port& port : symbol.ports)
    low = std::max(low, port.at.y);
  const double above = hub.kind == HubKind::generator
                           ? std::max(-symbol.bounds.y, module_width + in.paper(2.0 * least_radius))
                           : 0.0;
  shape.symbol_top = in.paper(source_label) + above;
  shape.lead = module_width;
  shape.height = shape.symbol_top + low + shape.lead;
  if (bonds > 0.0) shape.reach = in.paper(source_label + earth_height + 1.0);
  return shape;
}

// The widest ring round the marks of the sources that feed any one conductor.
double widest_tag(const Measured& in) {
  double width = in.paper(tag_diameter);
  for (const Picture& picture : in.set.pictures)
    for (const auto& feeds : picture.feeds)
      for (const Feed& feed : feeds)
        width = std::max(width, in.words(feed_marks(in.set, feed), Weight::bold) + in.paper(1.6));
  return width;
}

double widest_device(const Measured& in, const Chain& chain) {
  double width = 0.0;
  for (const Piece& piece : chain.pieces)
    if (piece.kind == Piece::Kind::element && is_drawn(in.what.site, in.set, piece.index))
      width = std::max(width, device_width(in, piece.index, Words::in_two));
  return width;
}

// From a chain of an inverter to the next one at its right, to what that has at its left.
std::optional<double> room_to_the_right(const Measured& in, const Chain& chain) {
  const Plan& plan = in.what.plan;
  const auto& ports =
      shape_of(in.metrics, symbol_name(in.what.site, plan.hubs[chain.upper].element)).ports;
  const auto place = [&](const std::string& port) {
    const auto at = std::ranges::find(ports, port, &Port::name);
    return at == ports.end() ? 0.0 : at->at.x;
  };
  std::optional<double> room;
  for (const Chain& other : plan.chains) {
    const double away = place(other.upper_port) - place(chain.upper_port);
    if (other.upper != chain.upper || away <= 0.0) continue;
    const bool bare = widest_device(in, other) == 0.0;
    const double free = away - (bare ? in.paper(line_room) : arm_room(in));
    room = room ? std::min(*room, free) : free;
  }
  return room;
}

Words words_beside(const Measured& in, const Chain& chain) {
  const auto is_hybrid = [&](std::size_t end) {
    const Hub& hub = in.what.plan.hubs[end];
    return hub.kind == HubKind::inverter && hub.element != none &&
           in.what.site.find_terminal(hub.element, "backup") != none;
  };
  if (is_hybrid(chain.lower)) return Words::in_two;
  if (!is_hybrid(chain.upper)) return Words::in_line;
  const auto room = room_to_the_right(in, chain);
  return room && *room < widest_device(in, chain) ? Words::left : Words::in_two;
}

Measures measured(const Measured& in, const std::vector<Words>& words) {
  const Plan& plan = in.what.plan;
  Measures measures;
  for (std::size_t c = 0; c < plan.chains.size(); ++c)
    measures.chains.push_back(shape_of_chain(in, plan.chains[c], words[c]));
  for (const Hub& hub : plan.hubs)
    measures.sources.push_back(is_source(hub) ? shape_of_source(in, hub) : SourceShape{});
  measures.cells.resize(plan.chains.size());
  measures.names.resize(plan.chains.size());
  const double tag_beside_bar = widest_tag(in) + in.paper(1.2);
  for (std::size_t f = 0; f < plan.frames.size(); ++f) {
    const std::size_t assembly = plan.frames[f].assembly;
    const double name =
        assembly == none
            ? 0.0
            : in.words(in.what.site.assemblies[assembly].designation, Weight::bold) + in.paper(1.0);
    const bool area = is_area(plan, f);
    measures.frame_names.push_back(area ? name : 0.0);
    measures.bar_ends.push_back(area ? Extent{0.0, tag_beside_bar} : Extent{name, tag_beside_bar});
  }
  measures.bar_names.assign(plan.frames.size(), 0.0);
  measures.tag_heights.assign(plan.frames.size(), 0.0);
  measures.layers = in.paper(bar_pitch);
  measures.table = {.pitch = 0.0, .row_height = 0.0, .rows = 0, .name_height = 0.0};
  return measures;
}

Metrics enlarged(const Metrics& metrics, double scale) {
  Metrics result = metrics;
  result.text_width = [measure = metrics.text_width, scale](std::string_view text, double height,
                                                            Weight weight) {
    return measure(text, height, weight) / scale;
  };
  return result;
}

}  // namespace

bool is_area(const Plan& plan, std::size_t frame) {
  return std::ranges::count(plan.hubs, frame, &Hub::frame) > 1;
}

std::string circuits_in_words(std::size_t count) {
  return count == 1 ? "1 circuit" : fmt::format("{} circuits", count);
}

bool has_own_bond(const site::Site& site, std::size_t element) {
  const auto* supply = site::facts<site::Supply>(site.elements[element]);
  if (supply != nullptr) {
    for (const site::Element& other : site.elements)
      if (site::facts<site::PenSplit>(other) != nullptr) return false;
    return supply->earthing && *supply->earthing != site::Earthing::it;
  }
  return !inner_bond_symbol(site, element).empty();
}

std::vector<SwitchId> bonds_at(const site::Site& site, const Hub& hub) {
  std::vector<SwitchId> bonds;
  if (hub.element != none && has_own_bond(site, hub.element))
    bonds.emplace_back(hub.element, "bond");
  for (const Attachment& attachment : hub.attachments)
    if (attachment.element != none &&
        site::facts<site::Bond>(site.elements[attachment.element]) != nullptr)
      bonds.emplace_back(attachment.element, "");
  return bonds;
}

namespace {

// The next smaller scale to try. What is missing says which one would do, but more than is so:
// tighter gaps are not tried where much is missing. Half the way there skips no scale that fits.
double next_scale(double scale, const Area& area, const Misfit& misfit) {
  constexpr double step = 0.03;
  const double enough =
      scale * std::min(area.right / (area.right + std::max(0.0, misfit.width)),
                       area.bottom / (area.bottom + std::max(0.0, misfit.height)));
  const double steps = std::floor((scale - enough) / step / 2.0);
  return scale - step * std::max(1.0, steps);
}

}  // namespace

std::optional<PictureLayout> lay_out_picture(const PicturePlan& plan, const PictureSet& set,
                                             const Metrics& metrics, double width, double height,
                                             double most, double least) {
  std::vector<std::size_t> order;
  for (double scale = most; scale >= least - 1e-9;) {
    PictureLayout layout{.what = plan,
                         .metrics = enlarged(metrics, scale),
                         .measures = {},
                         .placed = {},
                         .scale = scale};
    const Measured in{layout.what, set, layout.metrics, scale};
    for (const Chain& chain : layout.what.plan.chains)
      layout.words.push_back(words_beside(in, chain));
    layout.measures = measured(in, layout.words);
    const Area area{.left = 0.0,
                    .right = width / scale,
                    .top = 0.0,
                    .bottom = height / scale,
                    .notch_left = width / scale,
                    .notch_top = height / scale};
    auto placed =
        place(layout.what.site, layout.metrics, layout.what.plan, layout.measures, area, order);
    if (!placed) {
      order = placed.error().order;
      scale = next_scale(scale, area, placed.error());
      continue;
    }
    layout.placed = std::move(*placed);
    return layout;
  }
  return std::nullopt;
}

}  // namespace linewright::diagram
