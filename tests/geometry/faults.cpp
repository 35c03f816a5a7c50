#include "geometry/faults.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include <fmt/core.h>

#include "drawing/symbol_table.hpp"
#include "geometry/lines.hpp"

namespace linewright::tests::geometry {
namespace {

std::string at(Spot spot) {
  return fmt::format("({:.1f}, {:.1f})", spot.x, spot.y);
}

std::string name_of(const Sheet& sheet, std::size_t group) {
  const Group& of = sheet.groups[group];
  const auto get = [&](const char* key) {
    const auto found = of.data.find(key);
    return found == of.data.end() ? std::string() : found->second;
  };
  if (!get("id").empty()) return of.kind + " " + get("id");
  if (!get("from").empty()) return of.kind + " " + get("from") + " to " + get("to");
  return of.kind;
}

std::string value_of(const Sheet& sheet, std::size_t group, const char* key) {
  const auto& data = sheet.groups[group].data;
  const auto found = data.find(key);
  return found == data.end() ? std::string() : found->second;
}

// "-F9" of "-F9:2".
std::string element_of(const std::string& terminal) {
  return terminal.substr(0, terminal.find(':'));
}

bool contains(const Box& outer, const Box& inner) {
  constexpr double slack = 0.3;
  return outer.left <= inner.left + slack && outer.right >= inner.right - slack &&
         outer.top <= inner.top + slack && outer.bottom >= inner.bottom - slack;
}

// Strokes over a wire say how many conductors it has.
bool is_stroke_mark(const Item& item) {
  return item.kind == Item::Kind::symbol && item.words.starts_with("conductors-");
}

// A mark that belongs to a symbol, or stands on a small patch of paper of its own.
bool stands_in(const Item& text, const Item& other) {
  constexpr double widest = 25.0;
  constexpr double highest = 9.0;
  const bool patch = other.filled && other.box.width() < widest && other.box.height() < highest;
  return (other.kind == Item::Kind::symbol || patch) && other.group == text.group &&
         contains(other.box, text.box);
}

// The symbol's own lettering: "I", "kWh".
bool is_mark_of(const Item& text, const Item& symbol) {
  constexpr double near = 3.0;
  if (symbol.kind != Item::Kind::symbol) return false;
  static const drawing::SymbolLibrary all = drawing::built_in_symbols();
  const auto known = all.find(symbol.words);
  if (known == all.end()) return false;
  return std::ranges::any_of(
             known->second.texts,
             [&](const drawing::SymbolText& own) { return own.text == text.words; }) &&
         overlap(shrunk(symbol.box, -near), text.box);
}

bool is_patched(const Sheet& sheet, const Item& text) {
  return std::ranges::any_of(sheet.items, [&](const Item& other) {
    return other.kind != Item::Kind::text && stands_in(text, other);
  });
}

/// A wide soft line behind the wires of a hazard, over which everything stays legible.
bool is_halo(const Item& item) {
  return item.kind == Item::Kind::path && item.size > 1.8;
}

bool any_outline_enters(const Item& symbol, const Box& box) {
  for (const auto& part : symbol.lines)
    for (std::size_t p = 0; p + 1 < part.size(); ++p)
      if (enters({part[p], part[p + 1]}, box)) return true;
  return false;
}

}  // namespace

Faults covered_texts(const Sheet& sheet) {
  constexpr double hair = 0.1;
  Faults faults;
  std::vector<std::size_t> texts;
  for (std::size_t i = 0; i < sheet.items.size(); ++i)
    if (sheet.items[i].kind == Item::Kind::text) texts.push_back(i);
  const std::vector<Line> lines = lines_of(sheet);
  for (std::size_t t = 0; t < texts.size(); ++t) {
    const Item& text = sheet.items[texts[t]];
    const Box box = shrunk(text.box, hair);
    for (std::size_t o = t + 1; o < texts.size(); ++o)
      if (overlap(box, shrunk(sheet.items[texts[o]].box, hair)))
        faults.push_back(fmt::format("'{}' over '{}' at {}", text.words,
                                     sheet.items[texts[o]].words, at({box.left, box.top})));
    const bool patched = is_patched(sheet, text);
    for (const Line& line : lines)
      if (!patched && !is_halo(sheet.items[line.item]) && enters(line, box))
        faults.push_back(fmt::format("'{}' over a line of {} at {}", text.words,
                                     name_of(sheet, line.group), at({box.left, box.top})));
    for (const Item& symbol : sheet.items) {
      if (symbol.kind != Item::Kind::symbol || !overlap(box, shrunk(symbol.box, hair))) continue;
      if (stands_in(text, symbol) || is_mark_of(text, symbol)) continue;
      if (any_outline_enters(symbol, box))
        faults.push_back(fmt::format("'{}' over {} at {}", text.words, name_of(sheet, symbol.group),
                                     at({box.left, box.top})));
    }
  }
  return faults;
}

Faults wires_through_symbols(const Sheet& sheet) {
  constexpr double rim = 0.4;
  Faults faults;
  const std::vector<PortSpot> ports = ports_of(sheet);
  const auto ends_at_port_of = [&](const Line& line, std::size_t item) {
    return std::ranges::any_of(ports, [&](const PortSpot& port) {
      return port.item == item && (same(port.at, line.a) || same(port.at, line.b));
    });
  };
  for (const Line& line : lines_of(sheet)) {
    const std::string& kind = sheet.groups[line.group].kind;
    if (kind != "cable" && kind != "joint" && kind != "bond" && kind != "interlock" &&
        kind != "earthing" && !line.bar)
      continue;
    const std::string from = element_of(value_of(sheet, line.group, "from"));
    const std::string to = element_of(value_of(sheet, line.group, "to"));
    for (std::size_t i = 0; i < sheet.items.size(); ++i) {
      const Item& symbol = sheet.items[i];
      if (symbol.kind != Item::Kind::symbol || is_stroke_mark(symbol)) continue;
      if (symbol.group == line.group || !enters(line, shrunk(symbol.box, rim))) continue;
      const std::string id = value_of(sheet, symbol.group, "id");
      if (!id.empty() && (id == from || id == to)) continue;
      if (ends_at_port_of(line, i)) continue;
      const bool acts_on_it =
          kind == "interlock" &&
          (overlap({line.a.x, line.a.y, line.a.x + 1e-6, line.a.y + 1e-6}, symbol.box) ||
           overlap({line.b.x, line.b.y, line.b.x + 1e-6, line.b.y + 1e-6}, symbol.box));
      if (acts_on_it) continue;
      faults.push_back(fmt::format("{} through {} at {}", name_of(sheet, line.group),
                                   name_of(sheet, symbol.group), at(line.a)));
    }
  }
  return faults;
}

Faults wires_on_wires(const Sheet& sheet) {
  constexpr double least = 0.3;  // mm that two may share where they meet
  Faults faults;
  const std::vector<Line> lines = lines_of(sheet);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (!lines[i].wire) continue;
    for (std::size_t o = i + 1; o < lines.size(); ++o) {
      const Line& a = lines[i];
      const Line& b = lines[o];
      if (!b.wire || a.item == b.item) continue;
      const bool upright = std::abs(a.a.x - a.b.x) < 1e-6 && std::abs(b.a.x - b.b.x) < 1e-6 &&
                           std::abs(a.a.x - b.a.x) <= touching;
      const bool level = std::abs(a.a.y - a.b.y) < 1e-6 && std::abs(b.a.y - b.b.y) < 1e-6 &&
                         std::abs(a.a.y - b.a.y) <= touching;
      const auto shared = [](double p, double q, double r, double s) {
        return std::min(std::max(p, q), std::max(r, s)) - std::max(std::min(p, q), std::min(r, s));
      };
      const double length = upright ? shared(a.a.y, a.b.y, b.a.y, b.b.y)
                            : level ? shared(a.a.x, a.b.x, b.a.x, b.b.x)
                                    : 0.0;
      if (length > least)
        faults.push_back(fmt::format("{} and {} share {:.1f} mm at {}", name_of(sheet, a.group),
                                     name_of(sheet, b.group), length, at(a.a)));
    }
  }
  return faults;
}

Faults loose_ends(const Sheet& sheet) {
  Faults faults;
  const std::vector<Line> lines = lines_of(sheet);
  const std::vector<PortSpot> ports = ports_of(sheet);
  constexpr double pen = 0.2;  // mm, half the width of an outline and of the wire
  const auto meets = [&](Spot end, std::size_t item) {
    const std::size_t group = sheet.items[item].group;
    const bool in_own = std::ranges::any_of(sheet.items, [&](const Item& symbol) {
      if (symbol.kind != Item::Kind::symbol) return false;
      const std::string id = value_of(sheet, symbol.group, "id");
      return !id.empty() &&
             (id == element_of(value_of(sheet, group, "from")) ||
              id == element_of(value_of(sheet, group, "to"))) &&
             overlap(symbol.box, {end.x - pen, end.y - pen, end.x + pen, end.y + pen});
    });
    if (in_own) return true;
    if (std::ranges::any_of(ports, [&](const PortSpot& port) { return same(port.at, end); }))
      return true;
    if (std::ranges::any_of(lines,
                            [&](const Line& line) { return line.item != item && on(line, end); }))
      return true;
    return std::ranges::any_of(sheet.items, [&](const Item& other) {
      if (other.kind != Item::Kind::box) return false;
      const Box& b = other.box;
      const Line edges[] = {{{b.left, b.top}, {b.right, b.top}},
                            {{b.left, b.bottom}, {b.right, b.bottom}},
                            {{b.left, b.top}, {b.left, b.bottom}},
                            {{b.right, b.top}, {b.right, b.bottom}}};
      return std::ranges::any_of(edges, [&](const Line& edge) { return on(edge, end); });
    });
  };
  for (std::size_t i = 0; i < sheet.items.size(); ++i) {
    const Item& item = sheet.items[i];
    if (item.kind != Item::Kind::path) continue;
    if (!item.run && sheet.groups[item.group].kind != "joint") continue;
    for (const auto& part : item.lines)
      for (const Spot end : {part.front(), part.back()})
        if (!meets(end, i))
          faults.push_back(
              fmt::format("{} ends at {} on nothing", name_of(sheet, item.group), at(end)));
  }
  return faults;
}

Faults doubtful_joints(const Sheet& sheet) {
  constexpr double dot = 2.4;  // mm; larger discs are symbols
  Faults faults;
  const std::vector<Line> lines = lines_of(sheet);
  const std::vector<PortSpot> ports = ports_of(sheet);
  std::vector<Spot> dots;
  for (const Item& item : sheet.items)
    if (item.kind == Item::Kind::disc && item.box.width() < dot &&
        sheet.groups[item.group].kind.find("picture") == std::string::npos)
      dots.push_back(
          {(item.box.left + item.box.right) / 2.0, (item.box.top + item.box.bottom) / 2.0});
  const auto has_dot = [&](Spot spot) {
    return std::ranges::any_of(dots, [&](Spot each) { return same(each, spot); });
  };
  // Ways that lead from a point: a line through it counts twice, a port leads into its symbol.
  const auto arms = [&](Spot spot) {
    std::size_t count = 0;
    for (const Line& line : lines) {
      const bool counts = line.wire || line.bar || sheet.groups[line.group].kind == "earthing" ||
                          sheet.groups[line.group].kind == "bond";
      if (!counts || !on(line, spot) || same(line.a, line.b)) continue;
      count += within(line, spot) ? 2U : 1U;
    }
    for (const PortSpot& port : ports)
      if (same(port.at, spot) && !is_stroke_mark(sheet.items[port.item])) ++count;
    return count;
  };
  // A lead of a symbol that arrives from the other side: the wire only passes.
  const auto goes_on = [&](const std::vector<Spot>& part, Spot end) {
    const Spot next = same(part.front(), end) ? part[1] : part[part.size() - 2];
    return std::ranges::any_of(ports, [&](const PortSpot& port) {
      if (!same(port.at, end) || is_stroke_mark(sheet.items[port.item])) return false;
      const Box& box = sheet.items[port.item].box;
      const Spot middle{(box.left + box.right) / 2.0, (box.top + box.bottom) / 2.0};
      return (next.y - end.y) * (middle.y - end.y) < 0.0 && std::abs(next.x - end.x) < touching;
    });
  };
  for (const Spot spot : dots)
    if (arms(spot) < 3) faults.push_back("the dot at " + at(spot) + " joins nothing");
  for (const Item& item : sheet.items) {
    if (item.kind != Item::Kind::path) continue;
    if (!item.run && sheet.groups[item.group].kind != "joint") continue;
    for (const auto& part : item.lines) {
      if (part.size() < 2 || same(part.front(), part.back())) continue;
      for (const Spot end : {part.front(), part.back()}) {
        const bool on_middle = std::ranges::any_of(lines, [&](const Line& line) {
          return (line.wire || line.bar) && &sheet.items[line.item] != &item && within(line, end);
        });
        if (on_middle && !has_dot(end) && !goes_on(part, end))
          faults.push_back(fmt::format("{} meets a line at {} without a dot",
                                       name_of(sheet, item.group), at(end)));
      }
    }
  }
  return faults;
}

Faults outside_frame(const Sheet& sheet) {
  Faults faults;
  Box frame;
  for (const Item& item : sheet.items)
    if (sheet.groups[item.group].kind == "frame" && item.kind != Item::Kind::text &&
        item.size > 0.6 && item.box.width() * item.box.height() > frame.width() * frame.height())
      frame = item.box;
  if (frame.width() <= 0.0) return {"there is no frame"};
  for (const Item& item : sheet.items) {
    const std::string& kind = sheet.groups[item.group].kind;
    if (kind == "frame" || kind.empty()) continue;  // none: the paper itself
    if (!contains(frame, item.box))
      faults.push_back(fmt::format("{} '{}' reaches over the frame at {}",
                                   name_of(sheet, item.group), item.words,
                                   at({item.box.left, item.box.top})));
  }
  return faults;
}

Faults small_texts(const Sheet& sheet) {
  constexpr double cap_share = 0.711;  // height of capitals by font size
  Faults faults;
  for (const Item& item : sheet.items) {
    if (item.kind != Item::Kind::text) continue;
    const std::string& kind = sheet.groups[item.group].kind;
    const bool in_symbol = std::ranges::any_of(
        sheet.items, [&](const Item& other) { return is_mark_of(item, other); });
    const double least = kind == "title-block" || in_symbol ? 1.8 : 2.5;
    if (item.size * cap_share < least - 0.01)
      faults.push_back(fmt::format("'{}' is {:.2f} mm high", item.words, item.size * cap_share));
  }
  return faults;
}

Faults faults_of(const Sheet& sheet) {
  Faults faults;
  for (const auto check : {covered_texts, wires_through_symbols, wires_on_wires, loose_ends,
                           doubtful_joints, outside_frame, small_texts})
    for (const std::string& fault : check(sheet))
      faults.push_back(sheet.name + ": " + fault);
  return faults;
}

}  // namespace linewright::tests::geometry
