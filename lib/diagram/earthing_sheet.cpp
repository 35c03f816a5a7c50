#include "diagram/earthing_sheet.hpp"

#include <algorithm>
#include <deque>
#include <functional>
#include <utility>

#include <fmt/core.h>

#include "diagram/earthing_parts.hpp"
#include "diagram/note_blocks.hpp"
#include "diagram/site_facts.hpp"
#include "diagram/text_sheets.hpp"

namespace linewright::diagram {
namespace {

using earthing::above_words;
using earthing::half_box;
using earthing::level_heights;
using earthing::lines_of;
using earthing::width_of;
using earthing::words_gap;
using site::none;

constexpr double inset = 6.0;  ///< from the frame to the diagram
constexpr double box_height = 6.0;
constexpr double column_gap = 4.0;  ///< between parts side by side

void draw_words(Sketch& sketch, Group& group, const std::vector<EarthingLine>& lines, Point at) {
  for (const EarthingLine& line : lines) {
    Text text = line.text;
    text.at = at;
    if (!line.target.empty())
      group.items.emplace_back(Link{ink_of(sketch.metrics, text), line.target});
    sketch.text(group, text);
    at.y += line_pitch;
  }
}

/// A part of the tree while it is drawn.
struct Drawer {
  const EarthingCanvas& canvas;
  Sketch& sketch;
  std::vector<double> heights;  ///< by level

  Group& group_of(const EarthNode& node) {
    std::string words;
    for (const std::string& line : node.words)
      words += (words.empty() ? "" : ", ") + line;
    const std::string id = node.designation.empty() ? "" : "earthing " + node.designation;
    const bool known = std::ranges::any_of(
        sketch.sheet.groups, [&](const Group& group) { return !id.empty() && group.id == id; });
    Group& group = sketch.group("earthing", known ? "" : id, node.designation, words);
    group.data["end"] = node.end == EarthEnd::joint ? "neutral-earth joint" : "bonded";
    return group;
  }

  void draw_end(const EarthNode& node, Group& group, Point at) {
    switch (node.end) {
      case EarthEnd::electrode:
      case EarthEnd::metalwork:
      case EarthEnd::joint:
        sketch.symbol(group, node.symbol, at);
        return;
      case EarthEnd::onwards:
        sketch.line(group, {{at.x - 1.25, at.y - 3.0}, at}, Stroke::symbol);
        sketch.line(group, {{at.x + 1.25, at.y - 3.0}, at}, Stroke::symbol);
        return;
      case EarthEnd::equipment:
        group.items.emplace_back(
            Box{.rect = {at.x - half_box, at.y, 2.0 * half_box, box_height}, .fill = Ink::white});
        sketch.text(group, {.at = {at.x, at.y + box_height / 2.0 + text_height / 2.0},
                            .text = node.designation,
                            .weight = Weight::bold,
                            .anchor = Anchor::middle});
        return;
      case EarthEnd::board:
      case EarthEnd::terminal:
        if (node.children.empty())
          sketch.line(group, {{at.x - half_box, at.y}, {at.x + half_box, at.y}}, Stroke::busbar);
        return;
    }
  }

  // Bars span their columns; the first column goes straight on from the one that feeds the bar.
  void draw_below(const EarthNode& node, Point at, std::size_t level) {
    if (node.children.empty()) return;
    double left = at.x;
    std::vector<double> columns;
    for (const EarthNode& child : node.children) {
      columns.push_back(left);
      left += width_of(canvas, child);
    }
    const double down = at.y + heights[level];
    for (std::size_t i = 0; i < columns.size(); ++i) {
      const EarthNode& child = node.children[i];
      Group& group = group_of(child);
      sketch.line(group, {{columns[i], at.y}, {columns[i], down}}, Stroke::protective);
      draw_words(sketch, group, lines_of(canvas, child),
                 {columns[i] + words_gap, at.y + above_words});
      draw_end(child, group, {columns[i], down});
      draw_below(child, {columns[i], down}, level + 1);
    }
    Group& bar = sketch.group("earthing", "", "", "");
    sketch.line(bar, {{at.x - half_box, at.y}, {columns.back() + half_box, at.y}}, Stroke::busbar);
    for (const double x : columns)
      bar.items.emplace_back(Dot{{x, at.y}, 1.75});
  }

  void draw(const EarthingPart& part, Point corner) {
    heights = level_heights(canvas, part.root);
    const EarthNode& root = part.root;
    Group& group = group_of(root);
    Text name{.at = {corner.x, corner.y + 4.0}, .text = root.designation, .weight = Weight::bold};
    sketch.text(group, name);
    const std::string words = earthing::heading_words(root);
    name.at.x += canvas.metrics.text_width(name.text, text_height, Weight::bold) + 1.5;
    sketch.text(group, {.at = name.at, .text = words});
    const EarthingReference to = reference_to(canvas, root.designation);
    if (!to.words.empty()) {
      name.at.x += canvas.metrics.text_width(words, text_height, Weight::regular) + 3.0;
      const Text reference{.at = name.at, .text = to.words, .ink = Ink::grey};
      group.items.emplace_back(Link{ink_of(canvas.metrics, reference), to.target});
      sketch.text(group, reference);
    }
    draw_below(root, {corner.x + half_box, corner.y + earthing::head}, 0);
  }
};

// The supplier's own joint: on site where its PEN is divided there, else out in its network.
std::string suppliers_joint(const site::Site& site) {
  for (const site::Element& element : site.elements)
    if (site::facts<site::PenSplit>(element) != nullptr)
      return fmt::format("at {}, {}", element.designation, bond_words(element));
  return "in the distributor's network";
}

// "-X5: contact, rests closed": every joint that a state's cell names, with what makes it.
std::string joints_in_words(const site::Site& site, const std::string& bond) {
  std::string words;
  for (const site::Element& element : site.elements) {
    const std::size_t at = bond.find(element.designation);
    if (at == std::string::npos) continue;
    const std::size_t end = at + element.designation.size();
    if (end < bond.size() && bond[end] != ' ' && bond[end] != ',') continue;
    const std::string how = bond_words(element);
    if (!how.empty()) words += (words.empty() ? "" : "; ") + element.designation + ": " + how;
  }
  if (bond.find("supply") != std::string::npos)
    words = suppliers_joint(site) + (words.empty() ? "" : "; " + words);
  return words;
}

FactBlock joints_by_state(const site::Site& site, const OverviewNotes& notes) {
  FactBlock block{.heading = "Neutral joined to earth, state by state", .facts = {}};
  for (const StateRow& row : notes.states) {
    const std::string how = joints_in_words(site, row.bond);
    const bool at_supply = row.bond.find("supply") != std::string::npos;
    block.facts.push_back({row.name, how.empty() ? row.bond
                                     : at_supply ? row.bond + ", " + how
                                                 : how});
  }
  return block;
}

/// A sheet of the earthing under way.
struct Under {
  Sheet sheet;
  double bottom = 0.0;  ///< of what is drawn
};

Under fresh(const site::Site& site, std::size_t number) {
  const Paper paper = paper_of(site);
  Under under{sheet_of(paper, number == 1 ? "earthing" : fmt::format("earthing-{}", number),
                       number == 1 ? "Earthing" : fmt::format("Earthing, sheet {}", number)),
              paper.frame.y + inset};
  return under;
}

std::deque<Under> draw_parts(const EarthingCanvas& canvas, const std::vector<EarthingPart>& parts,
                             std::vector<std::string>& symbols) {
  const Paper paper = paper_of(canvas.site);
  const double bottom = title_top(canvas.site, paper) - 2.0;
  std::deque<Under> sheets;
  double x = paper.frame.x + inset;
  double top = paper.frame.y + inset;
  for (const EarthingPart& part : parts) {
    if (!sheets.empty() && x + part.width > paper.right() - inset + 1e-6) {
      x = paper.frame.x + inset;
      top = sheets.back().bottom + 4.0;
    }
    if (sheets.empty() || top + part.height > bottom) {
      sheets.push_back(fresh(canvas.site, sheets.size() + 1));
      x = paper.frame.x + inset;
      top = sheets.back().bottom;
      Sketch frame{
          .metrics = canvas.metrics, .sheet = sheets.back().sheet, .taken = {}, .symbols = {}};
      draw_frame(frame);
    }
    Sketch sketch{
        .metrics = canvas.metrics, .sheet = sheets.back().sheet, .taken = {}, .symbols = {}};
    Drawer{canvas, sketch, {}}.draw(part, {x, top});
    for (const std::string& symbol : sketch.symbols)
      if (std::ranges::count(symbols, symbol) == 0) symbols.push_back(symbol);
    sheets.back().bottom = std::max(sheets.back().bottom, top + part.height);
    x += part.width + column_gap;
  }
  return sheets;
}

// The tables below the diagram, or on a sheet more.
void add_tables(const EarthingCanvas& canvas, const OverviewNotes& notes,
                std::deque<Under>& sheets) {
  const site::Site& site = canvas.site;
  std::vector<std::function<Block(double)>> blocks;
  const FactBlock joints = joints_by_state(site, notes);
  if (!joints.facts.empty())
    blocks.emplace_back([&](double width) { return facts_block(canvas.metrics, joints, width); });
  const std::vector<std::string> unsaid = unsaid_of_earthing(site);
  if (!unsaid.empty())
    blocks.emplace_back([&](double width) {
      return list_block(canvas.metrics, {"Not stated in the site file", unsaid}, width);
    });
  const std::vector<std::string> remarks{
      "Each conductor has a place of its own at the main earthing terminal.",
      "Circuits have their protective conductor in their cable; it is not drawn here."};
  blocks.emplace_back([&](double width) {
    return list_block(canvas.metrics, {"Notes on the earthing", remarks}, width);
  });
  const Paper paper = paper_of(site);
  Filling filling(columns_below(site, paper, sheets.back().bottom + block_gap));
  for (const auto& block : blocks) {
    if (filling.put_in_emptiest(block)) continue;
    Sketch sketch{
        .metrics = canvas.metrics, .sheet = sheets.back().sheet, .taken = {}, .symbols = {}};
    filling.draw(sketch);
    sheets.push_back(fresh(site, sheets.size() + 1));
    Sketch frame{
        .metrics = canvas.metrics, .sheet = sheets.back().sheet, .taken = {}, .symbols = {}};
    draw_frame(frame);
    filling = Filling(columns_below(site, paper, sheets.back().bottom));
    filling.put_in_emptiest(block);
  }
  Sketch sketch{
      .metrics = canvas.metrics, .sheet = sheets.back().sheet, .taken = {}, .symbols = {}};
  filling.draw(sketch);
}

std::size_t columns_in(const EarthNode& node) {
  std::size_t count = node.children.empty() ? 1 : 0;
  for (const EarthNode& child : node.children)
    count += columns_in(child);
  return count;
}

// A small tree takes more of the paper: up to the whole width and half the height.
EarthingCanvas with_air(EarthingCanvas canvas, const EarthNode& root, const Rect& room) {
  constexpr double most_air = 12.0;
  constexpr double most_drop = 10.0;
  const double columns = static_cast<double>(columns_in(root));
  canvas.air = std::clamp((room.width - width_of(canvas, root)) / columns, 0.0, most_air);
  const std::vector<double> heights = level_heights(canvas, root);
  double height = 0.0;
  for (const double one : heights)
    height += one;
  const double levels = static_cast<double>(std::max<std::size_t>(1, heights.size()));
  canvas.drop = std::clamp((room.height / 2.0 - height) / levels, 0.0, most_drop);
  return canvas;
}

}  // namespace

EarthingSheets earthing_sheets(const site::Site& site, const Metrics& metrics,
                               const OverviewNotes& notes, const std::vector<const Sheet*>& drawn) {
  EarthingSheets result;
  const EarthNode root = earthing_tree(site);
  if (root.designation.empty()) return result;
  const Paper paper = paper_of(site);
  const Rect room{paper.frame.x + inset, paper.frame.y + inset, paper.frame.width - 2.0 * inset,
                  title_top(site, paper) - 2.0 - paper.frame.y - inset};
  const EarthingCanvas canvas = with_air({site, metrics, drawn}, root, room);
  std::deque<Under> sheets =
      draw_parts(canvas, earthing_parts(canvas, root, room.width, room.height), result.symbols);
  add_tables(canvas, notes, sheets);
  for (Under& under : sheets)
    result.sheets.push_back(std::move(under.sheet));
  return result;
}

void refer_to_earthing(const site::Site& site, const Metrics& metrics, std::size_t number,
                       double right, Sheet& sheet, std::vector<Rect>& taken) {
  const std::size_t met = main_earthing_terminal(site);
  if (met == none) return;
  const auto group = std::ranges::find_if(sheet.groups, [&](const Group& one) {
    return one.kind == "element" && one.id == site.elements[met].designation;
  });
  if (group == sheet.groups.end()) return;
  const Point at = place_of(*group);
  const std::string target = "earthing#earthing " + site.elements[met].designation;
  Sketch sketch{.metrics = metrics, .sheet = sheet, .taken = std::move(taken), .symbols = {}};
  std::vector<Rect> frames = frame_lines(sheet);
  const Paper paper = paper_of(sheet);
  const double top = title_top(site, paper);
  frames.push_back({paper.title_left() - 1.0, top - 1.0, Paper::title_width, paper.bottom() - top});
  const Text words{.text = fmt::format("earthing: sheet {}", number), .ink = Ink::grey};
  const double room = metrics.text_width(words.text, text_height, Weight::regular);
  for (const Point spot :
       {Point{at.x + 14.0, at.y + 1.25}, Point{at.x - 14.0 - room, at.y + 1.25},
        Point{at.x + 2.5, at.y + 5.0}, Point{at.x - 13.0, at.y + 5.0},
        Point{at.x - 13.0, at.y - 2.75}, Point{at.x - 1.5 - room, at.y - 2.75}}) {
    Text text = words;
    text.at = spot;
    const Rect ink = ink_of(metrics, text);
    const Rect clear{ink.x - 0.5, ink.y - 0.5, ink.width + 1.0, ink.height + 1.0};
    const bool crosses =
        std::ranges::any_of(frames, [&](const Rect& line) { return overlap(line, clear); });
    if (crosses || clear.x + clear.width > right || !sketch.is_free(clear)) continue;
    group->items.emplace_back(Link{ink, target});
    sketch.text(*group, text);
    taken = std::move(sketch.taken);
    return;
  }
  group->items.emplace_back(Link{{at.x - 12.5, at.y - 1.25, 25.0, 2.5}, target});
  taken = std::move(sketch.taken);
}

}  // namespace linewright::diagram
