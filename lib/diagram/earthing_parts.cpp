#include "diagram/earthing_parts.hpp"

#include <algorithm>
#include <deque>
#include <iterator>
#include <utility>

#include <fmt/core.h>

#include "diagram/lettering.hpp"

namespace linewright::diagram {
namespace {

constexpr double words_width = 27.0;  ///< where the words of a column are broken
constexpr double column_gap = 4.0;    ///< between the words of one column and the next
constexpr double below_words = 2.5;   ///< from the last baseline to the end of the column
constexpr double tail = 17.0;         ///< below a column: room of symbols and boxes

// Height of the columns below each level of bars.
void add_heights(const EarthingCanvas& canvas, const EarthNode& node, std::size_t level,
                 std::vector<double>& heights) {
  if (heights.size() <= level) heights.resize(level + 1, 0.0);
  for (const EarthNode& child : node.children) {
    const double lines = static_cast<double>(earthing::lines_of(canvas, child).size());
    heights[level] = std::max(heights[level], earthing::above_words + line_pitch * (lines - 1.0) +
                                                  below_words + canvas.drop);
    add_heights(canvas, child, level + 1, heights);
  }
}

}  // namespace

Point place_of(const Group& group) {
  for (const Item& item : group.items) {
    if (const auto* use = std::get_if<SymbolUse>(&item)) return use->at;
    if (const auto* box = std::get_if<Box>(&item)) return {box->rect.x, box->rect.y};
    if (const auto* line = std::get_if<Polyline>(&item); line != nullptr && !line->points.empty())
      return line->points.front();
  }
  return {};
}

EarthingReference reference_to(const EarthingCanvas& canvas, const std::string& designation) {
  if (designation.empty()) return {};
  for (std::size_t s = 0; s < canvas.drawn.size(); ++s) {
    const Sheet& sheet = *canvas.drawn[s];
    for (const Group& group : sheet.groups)
      if (group.id == designation && (group.kind == "element" || group.kind == "boundary"))
        return {fmt::format("sheet {}, {}", s + 1, zone_of(paper_of(sheet), place_of(group))),
                sheet.name + "#" + designation};
  }
  return {};
}

namespace earthing {

std::vector<EarthingLine> lines_of(const EarthingCanvas& canvas, const EarthNode& node) {
  std::vector<EarthingLine> lines;
  const auto add = [&](const std::string& words, Weight weight, Ink ink, const std::string& to) {
    for (const std::string& line : wrapped(canvas.metrics, words, words_width, weight))
      lines.push_back({{.at = {}, .text = line, .weight = weight, .ink = ink}, to});
  };
  for (const std::string& words : node.conductor)
    add(words, Weight::regular, Ink::grey, {});
  if (node.end != EarthEnd::equipment && !node.designation.empty())
    add(node.designation, Weight::bold, Ink::black, {});
  for (const std::string& words : node.words)
    add(words, Weight::regular, Ink::black, {});
  const EarthingReference to = reference_to(canvas, node.designation);
  if (!to.words.empty()) add(to.words, Weight::regular, Ink::grey, to.target);
  return lines;
}

namespace {

double words_room(const EarthingCanvas& canvas, const EarthNode& node) {
  double width = 0.0;
  for (const EarthingLine& line : lines_of(canvas, node))
    width =
        std::max(width, canvas.metrics.text_width(line.text.text, text_height, line.text.weight));
  return half_box + std::max(half_box, words_gap + width) + column_gap + canvas.air;
}

}  // namespace

double width_of(const EarthingCanvas& canvas, const EarthNode& node) {
  double children = 0.0;
  for (const EarthNode& child : node.children)
    children += width_of(canvas, child);
  const double own = node.end == EarthEnd::terminal ? 0.0 : words_room(canvas, node);
  return std::max(own, children);
}

std::string heading_words(const EarthNode& root) {
  std::string words = root.end == EarthEnd::terminal ? "main earthing terminal" : "";
  for (const std::string& line : root.words)
    words += (words.empty() ? "" : ", ") + line;
  return root.end == EarthEnd::terminal ? words : words + ", continued";
}

std::vector<double> level_heights(const EarthingCanvas& canvas, const EarthNode& node) {
  std::vector<double> heights;
  add_heights(canvas, node, 0, heights);
  return heights;
}

}  // namespace earthing

namespace {

using earthing::level_heights;
using earthing::width_of;

std::size_t depth_of(const EarthNode& node) {
  std::size_t depth = 0;
  for (const EarthNode& child : node.children)
    depth = std::max(depth, depth_of(child));
  return depth + 1;
}

EarthNode onwards(const EarthNode& node) {
  EarthNode stub = node;
  stub.children.clear();
  stub.end = EarthEnd::onwards;
  stub.words.emplace_back("goes on below or on the next sheet");
  return stub;
}

// Cuts off what makes a tree wider than the paper: whole subtrees first, then the last of too many
// conductors at one bar. What is cut off comes back as a part with its bar at the top.
void cut(const EarthingCanvas& canvas, EarthNode& node, double most, std::deque<EarthNode>& parts) {
  const auto take = [&](EarthNode& child) {
    EarthNode part = std::move(child);
    child = onwards(part);
    part.conductor.clear();
    parts.push_back(std::move(part));
  };
  while (width_of(canvas, node) > most + 1e-6) {
    EarthNode* widest = nullptr;
    for (EarthNode& child : node.children)
      if (!child.children.empty() &&
          (widest == nullptr || width_of(canvas, child) > width_of(canvas, *widest)))
        widest = &child;
    if (widest == nullptr) break;
    take(*widest);
  }
  if (width_of(canvas, node) <= most + 1e-6 || node.children.size() < 2) return;
  EarthNode rest = node;
  rest.conductor.clear();
  rest.children.clear();
  while (width_of(canvas, node) > most + 1e-6 && node.children.size() > 1) {
    rest.children.insert(rest.children.begin(), std::move(node.children.back()));
    node.children.pop_back();
  }
  parts.push_front(std::move(rest));
}

// Cuts off what reaches further down than the paper allows.
void cut_depth(const EarthingCanvas& canvas, EarthNode& node, double room,
               std::deque<EarthNode>& parts) {
  const auto height = [&] {
    double sum = tail + earthing::head;
    for (const double one : level_heights(canvas, node))
      sum += one;
    return sum;
  };
  while (height() > room && depth_of(node) > 2) {
    EarthNode* deepest = nullptr;
    for (EarthNode& child : node.children)
      if (!child.children.empty() && (deepest == nullptr || depth_of(child) > depth_of(*deepest)))
        deepest = &child;
    if (deepest == nullptr) return;
    EarthNode part = std::move(*deepest);
    *deepest = onwards(part);
    part.conductor.clear();
    parts.push_back(std::move(part));
  }
}

}  // namespace

std::vector<EarthingPart> earthing_parts(const EarthingCanvas& canvas, EarthNode root, double width,
                                         double height) {
  std::deque<EarthNode> waiting{std::move(root)};
  std::vector<EarthingPart> parts;
  while (!waiting.empty()) {
    EarthNode node = std::move(waiting.front());
    waiting.pop_front();
    std::deque<EarthNode> further;
    cut_depth(canvas, node, height, further);
    cut(canvas, node, width, further);
    waiting.insert(waiting.begin(), std::make_move_iterator(further.begin()),
                   std::make_move_iterator(further.end()));
    EarthingPart part{std::move(node)};
    const std::string heading = part.root.designation + earthing::heading_words(part.root) +
                                reference_to(canvas, part.root.designation).words;
    const double words = canvas.metrics.text_width(heading, text_height, Weight::bold) + 8.0;
    part.width = std::min(std::max(width_of(canvas, part.root), words), width);
    part.height = earthing::head + tail;
    for (const double one : earthing::level_heights(canvas, part.root))
      part.height += one;
    parts.push_back(std::move(part));
  }
  return parts;
}

}  // namespace linewright::diagram
