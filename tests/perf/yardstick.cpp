// How our diagrams compare with those of a general layout program that knows nothing of the trade:
// crossings, bends and length of the wires of each sample, beside Graphviz's dot with orthogonal
// lines on the same graph. Prints a table, asserts nothing.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <map>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include <fmt/core.h>

#include "analysis.hpp"
#include "draw_parts.hpp"
#include "linewright.hpp"
#include "support/paths.hpp"

namespace {

using namespace linewright;
using diagram::Point;

constexpr double close_to = 0.05;  ///< mm that count as nothing

/// A wire as a line with corners, mm.
using Wire = std::vector<Point>;

bool same(double a, double b) {
  return std::abs(a - b) < close_to;
}

/// A straight piece of a wire.
struct Piece {
  Point a;
  Point b;
  std::size_t wire = 0;
};

bool is_level(const Piece& piece) {
  return same(piece.a.y, piece.b.y);
}

/// Whether the two cross in the middle of both.
bool cross(const Piece& one, const Piece& other) {
  if (is_level(one) == is_level(other)) return false;
  const Piece& level = is_level(one) ? one : other;
  const Piece& upright = is_level(one) ? other : one;
  const auto [left, right] = std::minmax(level.a.x, level.b.x);
  const auto [top, bottom] = std::minmax(upright.a.y, upright.b.y);
  return upright.a.x > left + close_to && upright.a.x < right - close_to &&
         level.a.y > top + close_to && level.a.y < bottom - close_to;
}

/// How far the two lie on each other, mm.
double shared_length(const Piece& one, const Piece& other) {
  if (is_level(one) != is_level(other)) return 0.0;
  const auto along = [&](Point p) { return is_level(one) ? p.x : p.y; };
  const auto across = [&](Point p) { return is_level(one) ? p.y : p.x; };
  if (!same(across(one.a), across(other.a))) return 0.0;
  const auto [from, to] = std::minmax(along(one.a), along(one.b));
  const auto [other_from, other_to] = std::minmax(along(other.a), along(other.b));
  return std::max(0.0, std::min(to, other_to) - std::max(from, other_from));
}

/// The figures of one drawing.
struct Quality {
  int wires = 0;
  int crossings = 0;
  int bends = 0;
  double length = 0.0;  ///< mm
  double shared = 0.0;  ///< mm of wires that lie on other wires
};

/// The same wire without corners that are none.
Wire straightened(const Wire& wire) {
  Wire result;
  for (const Point& point : wire) {
    if (!result.empty() && same(result.back().x, point.x) && same(result.back().y, point.y))
      continue;
    if (result.size() >= 2) {
      const Point& before = result[result.size() - 2];
      const Point& last = result.back();
      const bool on = (same(before.x, last.x) && same(last.x, point.x)) ||
                      (same(before.y, last.y) && same(last.y, point.y));
      if (on) result.pop_back();
    }
    result.push_back(point);
  }
  return result;
}

void add(Quality& to, const std::vector<Wire>& wires) {
  std::vector<Piece> pieces;
  for (std::size_t w = 0; w < wires.size(); ++w) {
    const Wire wire = straightened(wires[w]);
    for (std::size_t i = 0; i + 1 < wire.size(); ++i) {
      pieces.push_back({wire[i], wire[i + 1], w});
      to.length += std::hypot(wire[i + 1].x - wire[i].x, wire[i + 1].y - wire[i].y);
    }
    if (wire.size() > 2) to.bends += static_cast<int>(wire.size()) - 2;
  }
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    for (std::size_t k = i + 1; k < pieces.size(); ++k) {
      if (pieces[i].wire == pieces[k].wire) continue;
      to.crossings += cross(pieces[i], pieces[k]) ? 1 : 0;
      to.shared += shared_length(pieces[i], pieces[k]);
    }
  }
  to.wires += static_cast<int>(wires.size());
}

/// All wires of our sheets, and bars: a wire over a bar counts as a crossing. A bar's own length
/// and a wire's end on it count for nothing.
Quality ours(const diagram::Document& document) {
  Quality quality;
  for (const diagram::Sheet& sheet : document.sheets) {
    if (sheet.name == "earthing") continue;
    std::vector<Wire> wires;
    double bars = 0.0;
    int count = 0;
    for (const diagram::Group& group : sheet.groups) {
      for (const diagram::Item& item : group.items) {
        const auto* line = std::get_if<diagram::Polyline>(&item);
        if (line == nullptr || line->closed) continue;
        const bool bar = line->stroke == diagram::Stroke::busbar;
        if (!bar && line->stroke != diagram::Stroke::wire) continue;
        wires.push_back(line->points);
        count += bar ? 0 : 1;
        if (bar) bars += std::abs(line->points.back().x - line->points.front().x);
      }
    }
    add(quality, wires);
    quality.length -= bars;
    quality.wires += count - static_cast<int>(wires.size());
  }
  return quality;
}

constexpr double mm_per_inch = 25.4;

/// The graph of the site: each node as large as we draw it with its words, a bar as wide as what
/// ends on it.
std::string graph_of(const site::Site& site) {
  std::vector<int> ends(site.elements.size(), 0);
  for (const site::Run& run : site.runs) {
    ++ends[run.from.element];
    ++ends[run.to.element];
  }
  std::string text =
      "digraph site {\n  graph [splines=ortho];\n  node [shape=box, fixedsize=true, label=\"\"];\n"
      "  edge [arrowhead=none];\n";
  for (std::size_t e = 0; e < site.elements.size(); ++e) {
    constexpr double column = 12.5;
    constexpr double symbol = 10.0;
    const bool bar = ends[e] > 2;
    fmt::format_to(std::back_inserter(text), "  n{} [width={:.3f}, height={:.3f}];\n", e,
                   (bar ? column * ends[e] / 2.0 : symbol) / mm_per_inch,
                   (bar ? 1.0 : symbol) / mm_per_inch);
  }
  for (const site::Run& run : site.runs)
    fmt::format_to(std::back_inserter(text), "  n{} -> n{};\n", run.from.element, run.to.element);
  return text + "}\n";
}

std::string output_of(const std::string& command) {
  std::string output;
  FILE* pipe = popen(command.c_str(), "r");
  if (pipe == nullptr) return output;
  std::array<char, 4096> part{};
  for (std::size_t got = 0; (got = fread(part.data(), 1, part.size(), pipe)) > 0;)
    output.append(part.data(), got);
  pclose(pipe);
  return output;
}

/// "edge tail head n x1 y1 … xn yn": the control points of its curve, which lie on its straight
/// pieces.
Quality of_dot(const site::Site& site) {
  const std::string file = tests::build_folder() + "/yardstick.dot";
  std::ofstream(file) << graph_of(site);
  std::istringstream plain(output_of("dot -Tplain '" + file + "'"));
  std::remove(file.c_str());
  std::vector<Wire> wires;
  for (std::string line; std::getline(plain, line);) {
    std::istringstream words(line);
    std::string word;
    std::string tail;
    std::string head;
    std::size_t count = 0;
    if (!(words >> word >> tail >> head >> count) || word != "edge") continue;
    Wire wire;
    for (Point point; wire.size() < count && words >> point.x >> point.y;)
      wire.push_back({point.x * mm_per_inch, point.y * mm_per_inch});
    wires.push_back(wire);
  }
  Quality quality;
  add(quality, wires);
  return quality;
}

std::string content_of(const std::string& path) {
  std::ifstream file(path);
  return {std::istreambuf_iterator<char>(file), {}};
}

void print(const std::string& name, const char* who, const Quality& quality) {
  fmt::print("| {} | {} | {} | {} | {} | {:.0f} | {:.0f} |\n", name, who, quality.wires,
             quality.crossings, quality.bends, quality.length, quality.shared);
}

}  // namespace

int main() {
  fmt::print(
      "| sample | drawn by | wires | crossings | bends | length, mm | of it on other wires, mm |\n"
      "| --- | --- | --- | --- | --- | --- | --- |\n");
  for (const char* name : {"tarn-house", "terrace", "clinic", "farm"}) {
    const std::string path =
        fmt::format("{}/samples/{}/{}.yaml", tests::source_folder(), name, name);
    const Checked checked = check_site(content_of(path), path, {});
    if (!checked.site || !checked.analysis) return 1;
    std::vector<std::string> notices;
    const diagram::Document document =
        document_of(*checked.site, checked.report, checked.analysis->analysed, {}, notices);
    print(name, "Linewright", ours(document));
    print(name, "dot", of_dot(*checked.site));
  }
}
