#include "geometry/lines.hpp"

#include <algorithm>
#include <cmath>

#include "drawing/symbol_table.hpp"

namespace linewright::tests::geometry {
namespace {

constexpr double bar_pen = 0.9;  // mm; thinner lines are no bars

Spot turned(Spot p, double quarter_turns) {
  for (int i = (static_cast<int>(quarter_turns) % 4 + 4) % 4; i > 0; --i)
    p = {-p.y, p.x};
  return p;
}

}  // namespace

std::vector<Line> lines_of(const Sheet& sheet) {
  std::vector<Line> lines;
  for (std::size_t i = 0; i < sheet.items.size(); ++i) {
    const Item& item = sheet.items[i];
    if (item.kind != Item::Kind::path || item.ink.empty()) continue;
    const std::string& kind = sheet.groups[item.group].kind;
    for (const auto& part : item.lines)
      for (std::size_t p = 0; p + 1 < part.size(); ++p)
        lines.push_back({part[p], part[p + 1], i, item.group, item.run || kind == "joint",
                         item.size >= bar_pen && kind != "picture-area"});
  }
  return lines;
}

std::vector<PortSpot> ports_of(const Sheet& sheet) {
  std::vector<PortSpot> ports;
  const auto& known = drawing::built_in_symbols();
  for (std::size_t i = 0; i < sheet.items.size(); ++i) {
    const Item& item = sheet.items[i];
    if (item.kind != Item::Kind::symbol) continue;
    const auto symbol = known.find(item.words);
    if (symbol == known.end()) continue;
    for (const diagram::Port& port : symbol->second.ports) {
      const Spot at = turned({port.at.x, port.at.y}, item.quarter_turns);
      ports.push_back({port.name, {item.at.x + at.x, item.at.y + at.y}, i});
    }
  }
  return ports;
}

bool same(Spot a, Spot b) {
  return std::abs(a.x - b.x) <= touching && std::abs(a.y - b.y) <= touching;
}

bool on(const Line& line, Spot point) {
  const double dx = line.b.x - line.a.x;
  const double dy = line.b.y - line.a.y;
  const double length = std::hypot(dx, dy);
  if (length < 1e-9) return same(line.a, point);
  const double along = ((point.x - line.a.x) * dx + (point.y - line.a.y) * dy) / length;
  const double off = std::abs((point.x - line.a.x) * dy - (point.y - line.a.y) * dx) / length;
  return off <= touching && along >= -touching && along <= length + touching;
}

bool within(const Line& line, Spot point) {
  return on(line, point) && !same(line.a, point) && !same(line.b, point);
}

// Cuts the line at the four edges in turn (Liang and Barsky, ACM Trans. Graph. 3, 1984; from
// memory).
bool enters(const Line& line, const Box& box) {
  if (box.width() <= 0.0 || box.height() <= 0.0) return false;
  double from = 0.0;
  double to = 1.0;
  const double dx = line.b.x - line.a.x;
  const double dy = line.b.y - line.a.y;
  const auto cut = [&](double p, double q) {
    if (std::abs(p) < 1e-12) return q >= 0.0;
    const double t = q / p;
    if (p < 0.0)
      from = std::max(from, t);
    else
      to = std::min(to, t);
    return from <= to;
  };
  return cut(-dx, line.a.x - box.left) && cut(dx, box.right - line.a.x) &&
         cut(-dy, line.a.y - box.top) && cut(dy, box.bottom - line.a.y);
}

Box shrunk(const Box& box, double by) {
  return {box.left + by, box.top + by, box.right - by, box.bottom - by};
}

bool overlap(const Box& a, const Box& b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

}  // namespace linewright::tests::geometry
