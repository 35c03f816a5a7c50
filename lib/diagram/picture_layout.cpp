#include "diagram/picture_layout.hpp"

#include <algorithm>

#include <fmt/core.h>

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
  if (words == Words::in_two) return in.paper(device_words) + std::max(width, name);
  return in.paper(device_words + words_gap) + width + name;
}

Extent device_room(const Measured& in, std::size_t element, Words words) {
  if (site::facts<site::PenSplit>(in.what.site.elements[element]) != nullptr)
    return {in.paper(bond_room), in.paper(1.5)};
  return {std::max(5.0, in.paper(2.2)), device_width(in, element, words)};
}

Stack stacked(const Measured& in, const std::vector<std::size_t>& devices, Words words) {
  Stack stack;
  for (const std::size_t device : devices) {
    if (!stack.empty()) stack.height -= module_width;
    stack.pieces.push_back({{Piece::Kind::element, device}, stack.height, device_height});
    stack.height += device_height;
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
ChainShape shape_of_chain(const Measured& in, const Chain& chain) {
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
  const Words words = words_of(in.what, chain);
  ChainShape shape{.upper = stacked(in, above, words),
                   .middle = stacked(in, between, words),
                   .lower = stacked(in, below, words)};
  for (const std::size_t device : between)
    shape.between.push_back({Piece::Kind::element, device});
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

// The ring round the marks of as many sources as feed any one conductor.
double widest_tag(const PictureSet& set) {
  constexpr double letter = 1.6;
  std::size_t most = 1;
  for (const Picture& picture : set.pictures)
    for (const auto& feeds : picture.feeds)
      for (const Feed& feed : feeds)
        most = std::max(most, feed.sources.size());
  return tag_diameter + letter * static_cast<double>(most - 1);
}

Measures measured(const Measured& in) {
  const Plan& plan = in.what.plan;
  Measures measures;
  for (const Chain& chain : plan.chains)
    measures.chains.push_back(shape_of_chain(in, chain));
  for (const Hub& hub : plan.hubs)
    measures.sources.push_back(is_source(hub) ? shape_of_source(in, hub) : SourceShape{});
  measures.cells.resize(plan.chains.size());
  measures.names.resize(plan.chains.size());
  for (std::size_t f = 0; f < plan.frames.size(); ++f) {
    const std::size_t assembly = plan.frames[f].assembly;
    const double name =
        assembly == none
            ? 0.0
            : in.words(in.what.site.assemblies[assembly].designation, Weight::bold) + in.paper(1.0);
    const bool area = is_area(plan, f);
    measures.frame_names.push_back(area ? name : 0.0);
    const double tag = in.paper(widest_tag(in.set) + 0.8);
    measures.bar_ends.push_back(area ? Extent{0.0, tag} : Extent{name, tag});
  }
  measures.bar_names.assign(plan.frames.size(), 0.0);
  measures.tag_heights.assign(plan.frames.size(), 0.0);
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

Words words_of(const PicturePlan& what, const Chain& chain) {
  for (const std::size_t end : {chain.upper, chain.lower}) {
    const Hub& hub = what.plan.hubs[end];
    if (hub.kind != HubKind::inverter || hub.element == none) continue;
    if (what.site.find_terminal(hub.element, "backup") != none) return Words::in_two;
  }
  return Words::in_line;
}

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

std::optional<PictureLayout> lay_out_picture(const PicturePlan& plan, const PictureSet& set,
                                             const Metrics& metrics, double width, double height,
                                             double most, double least) {
  constexpr double step = 0.03;
  for (double scale = most; scale >= least - 1e-9; scale -= step) {
    PictureLayout layout{.what = plan,
                         .metrics = enlarged(metrics, scale),
                         .measures = {},
                         .placed = {},
                         .scale = scale};
    layout.measures = measured({layout.what, set, layout.metrics, scale});
    const Area area{.left = 0.0,
                    .right = width / scale,
                    .top = 0.0,
                    .bottom = height / scale,
                    .notch_left = width / scale,
                    .notch_top = height / scale};
    auto placed = place(layout.what.site, layout.metrics, layout.what.plan, layout.measures, area);
    if (!placed) continue;
    layout.placed = std::move(*placed);
    return layout;
  }
  return std::nullopt;
}

}  // namespace linewright::diagram
