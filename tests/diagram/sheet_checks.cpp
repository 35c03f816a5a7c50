#include "diagram/sheet_checks.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include <fmt/core.h>

namespace linewright::tests {
namespace {

using namespace linewright::diagram;

constexpr double touch = 0.05;  // mm that may be shared by roundings

struct Segment {
  Point a;
  Point b;
  Stroke stroke;
};

bool overlap(const Rect& a, const Rect& b) {
  return a.x + touch < b.x + b.width && b.x + touch < a.x + a.width &&
         a.y + touch < b.y + b.height && b.y + touch < a.y + a.height;
}

// The ink of a text by its own rules here: cap height up, three tenths of it down.
Rect ink(const Text& text, const Metrics& metrics) {
  const double width = metrics.text_width(text.text, text.height, text.weight);
  const double before = text.anchor == Anchor::start    ? 0.0
                        : text.anchor == Anchor::middle ? width / 2
                                                        : width;
  if (text.turn == Turn::upright)
    return {text.at.x - before, text.at.y - text.height, width, 1.3 * text.height};
  return {text.at.x - text.height, text.at.y + before - width, 1.3 * text.height, width};
}

Rect bounds(const SymbolUse& use, const Metrics& metrics) {
  const Rect own = metrics.symbols.at(use.symbol).bounds;
  return {use.at.x + own.x, use.at.y + own.y, own.width, own.height};
}

// The outline without the rim that a bar or wire may touch.
Rect core(const SymbolUse& use, const Metrics& metrics) {
  constexpr double rim = 0.7;
  const Rect own = bounds(use, metrics);
  return {own.x + rim, own.y + rim, std::max(0.0, own.width - 2 * rim),
          std::max(0.0, own.height - 2 * rim)};
}

template <class T>
std::vector<T> all(const Sheet& sheet) {
  std::vector<T> found;
  for (const Group& group : sheet.groups)
    for (const Item& item : group.items)
      if (const T* one = std::get_if<T>(&item)) found.push_back(*one);
  return found;
}

bool is_line(Stroke stroke) {
  return stroke == Stroke::wire || stroke == Stroke::busbar || stroke == Stroke::protective ||
         stroke == Stroke::mechanical || stroke == Stroke::live || stroke == Stroke::live_bar ||
         stroke == Stroke::dead || stroke == Stroke::dead_bar || stroke == Stroke::undecided ||
         stroke == Stroke::fault_out || stroke == Stroke::fault_home;
}

std::vector<Segment> lines(const Sheet& sheet) {
  std::vector<Segment> found;
  for (const Polyline& line : all<Polyline>(sheet))
    for (std::size_t i = 1; is_line(line.stroke) && i < line.points.size(); ++i)
      found.push_back({line.points[i - 1], line.points[i], line.stroke});
  return found;
}

Rect slim(const Segment& segment) {
  const double half = segment.stroke == Stroke::busbar ? 0.5 : 0.15;
  return {std::min(segment.a.x, segment.b.x) - half, std::min(segment.a.y, segment.b.y) - half,
          std::abs(segment.a.x - segment.b.x) + 2 * half,
          std::abs(segment.a.y - segment.b.y) + 2 * half};
}

bool on_wires(const std::string& symbol) {
  return symbol.starts_with("conductors-") || symbol.ends_with("interlock");
}

std::string at(Point point) {
  return fmt::format("({:.1f}, {:.1f})", point.x, point.y);
}

bool ends_at_port(const Segment& segment, const SymbolUse& use, const Metrics& metrics) {
  for (const Port& port : metrics.symbols.at(use.symbol).ports) {
    const Point here{use.at.x + port.at.x, use.at.y + port.at.y};
    for (const Point end : {segment.a, segment.b})
      if (std::abs(end.x - here.x) < 0.7 && std::abs(end.y - here.y) < 0.7) return true;
  }
  return false;
}

}  // namespace

Faults covered_texts(const Sheet& sheet, const Metrics& metrics) {
  Faults faults;
  const auto texts = all<Text>(sheet);
  const auto symbols = all<SymbolUse>(sheet);
  const auto segments = lines(sheet);
  for (std::size_t i = 0; i < texts.size(); ++i) {
    const Rect own = ink(texts[i], metrics);
    for (std::size_t j = i + 1; j < texts.size(); ++j)
      if (overlap(own, ink(texts[j], metrics)))
        faults.push_back(
            fmt::format("'{}' on '{}' at {}", texts[i].text, texts[j].text, at(texts[j].at)));
    for (const SymbolUse& use : symbols)
      if (overlap(own, bounds(use, metrics)))
        faults.push_back(fmt::format("'{}' on {} at {}", texts[i].text, use.symbol, at(use.at)));
    for (const Segment& segment : segments)
      if (overlap(own, slim(segment)))
        faults.push_back(fmt::format("'{}' on a line at {}", texts[i].text, at(segment.a)));
  }
  return faults;
}

Faults wires_through_symbols(const Sheet& sheet, const Metrics& metrics) {
  Faults faults;
  for (const SymbolUse& use : all<SymbolUse>(sheet)) {
    if (on_wires(use.symbol)) continue;
    for (const Segment& segment : lines(sheet)) {
      if (segment.stroke == Stroke::mechanical || !overlap(core(use, metrics), slim(segment)))
        continue;
      if (!ends_at_port(segment, use, metrics))
        faults.push_back(fmt::format("a line from {} to {} through {} at {}", at(segment.a),
                                     at(segment.b), use.symbol, at(use.at)));
    }
  }
  return faults;
}

Faults overlapping_symbols(const Sheet& sheet, const Metrics& metrics) {
  constexpr double shared_lead = 2.5;  // neighbours in series may share their leads
  Faults faults;
  std::vector<SymbolUse> symbols = all<SymbolUse>(sheet);
  std::erase_if(symbols, [](const SymbolUse& use) { return on_wires(use.symbol); });
  for (std::size_t i = 0; i < symbols.size(); ++i) {
    for (std::size_t j = i + 1; j < symbols.size(); ++j) {
      Rect own = core(symbols[i], metrics);
      const Rect other = core(symbols[j], metrics);
      if (symbols[i].at.x == symbols[j].at.x && own.height > 2 * shared_lead) {
        own.y += shared_lead;
        own.height -= 2 * shared_lead;
      }
      if (overlap(own, other))
        faults.push_back(fmt::format("{} at {} on {} at {}", symbols[i].symbol, at(symbols[i].at),
                                     symbols[j].symbol, at(symbols[j].at)));
    }
  }
  return faults;
}

Faults overlapping_frames(const Sheet& sheet) {
  Faults faults;
  std::vector<std::pair<std::string, Rect>> frames;
  for (const Group& group : sheet.groups)
    for (const Item& item : group.items)
      if (const Box* box = std::get_if<Box>(&item); box != nullptr && group.kind == "boundary")
        frames.emplace_back(group.id, box->rect);
  for (std::size_t i = 0; i < frames.size(); ++i)
    for (std::size_t j = i + 1; j < frames.size(); ++j)
      if (overlap(frames[i].second, frames[j].second))
        faults.push_back(frames[i].first + " on " + frames[j].first);
  return faults;
}

Faults outside_frame(const Sheet& sheet, const Metrics& metrics) {
  const Rect frame{20.0, 10.0, sheet.width - 30.0, sheet.height - 20.0};
  Faults faults;
  const auto check = [&](const Rect& rect, const std::string& what) {
    const bool inside = rect.x >= frame.x - touch && rect.y >= frame.y - touch &&
                        rect.x + rect.width <= frame.x + frame.width + touch &&
                        rect.y + rect.height <= frame.y + frame.height + touch;
    if (!inside) faults.push_back(what + " outside the frame at " + at({rect.x, rect.y}));
  };
  for (const Group& group : sheet.groups) {
    if (group.kind == "frame") continue;
    for (const Item& item : group.items) {
      if (const auto* text = std::get_if<Text>(&item)) check(ink(*text, metrics), text->text);
      if (const auto* use = std::get_if<SymbolUse>(&item))
        check(bounds(*use, metrics), use->symbol);
      if (const auto* box = std::get_if<Box>(&item)) check(box->rect, group.kind);
      if (const auto* line = std::get_if<Polyline>(&item))
        for (const Point point : line->points)
          check({point.x, point.y, 0.0, 0.0}, group.kind);
    }
  }
  return faults;
}

Faults small_texts(const Sheet& sheet) {
  Faults faults;
  for (const Group& group : sheet.groups)
    for (const Item& item : group.items)
      if (const auto* text = std::get_if<Text>(&item))
        if (text->height < (group.kind == "title-block" ? 1.8 : 2.5)) faults.push_back(text->text);
  return faults;
}

Faults oblique_wires(const Sheet& sheet) {
  Faults faults;
  for (const Segment& segment : lines(sheet))
    if (segment.a.x != segment.b.x && segment.a.y != segment.b.y)
      faults.push_back("oblique line from " + at(segment.a) + " to " + at(segment.b));
  return faults;
}

Faults bent_feeders(const Document& document, const site::Site& site) {
  Faults faults;
  for (const Sheet& sheet : document.sheets) {
    for (const Group& group : sheet.groups) {
      if (group.kind != "run") continue;
      const std::string to = group.data.at("to");
      const std::size_t element = site.find(to.substr(0, to.find(':')));
      if (site::facts<site::LoadGroup>(site.elements.at(element)) == nullptr) continue;
      for (const Item& item : group.items)
        if (const auto* line = std::get_if<Polyline>(&item))
          if (line->points.size() != 2 || line->points[0].x != line->points[1].x)
            faults.push_back("bent feeder " + group.id);
    }
  }
  return faults;
}

Faults not_drawn_once(const Document& document, const site::Site& site) {
  std::map<std::string, int> count;
  for (const Sheet& sheet : document.sheets) {
    for (const Group& group : sheet.groups) {
      if (group.kind == "element") ++count[group.id];
      if (group.kind == "run") ++count[group.data.at("from") + " " + group.data.at("to")];
    }
  }
  Faults faults;
  const auto once = [&](const std::string& what) {
    if (count[what] != 1) faults.push_back(fmt::format("{} drawn {} times", what, count[what]));
  };
  const auto words = [&](site::Terminal end) {
    const site::Element& element = site.elements.at(end.element);
    return element.designation + ":" + element.terminals.at(end.terminal);
  };
  for (const site::Element& element : site.elements)
    once(element.designation);
  for (const site::Run& run : site.runs)
    once(words(run.from) + " " + words(run.to));
  return faults;
}

Faults dead_links(const Document& document) {
  Faults faults;
  for (const Sheet& sheet : document.sheets) {
    for (const Link& link : all<Link>(sheet)) {
      const bool found =
          std::any_of(document.sheets.begin(), document.sheets.end(), [&](const Sheet& other) {
            return link.target == other.name + "#" ||
                   std::any_of(other.groups.begin(), other.groups.end(), [&](const Group& group) {
                     return group.id == link.target || other.name + "#" + group.id == link.target;
                   });
          });
      if (!found) faults.push_back("dead link to " + link.target);
    }
  }
  return faults;
}

Faults out_of_order(const Document& document, const site::Site& site) {
  struct Stands {
    std::size_t sheet = 0;
    Point at;  // of the symbol
  };
  std::map<std::string, Stands> place;
  for (std::size_t s = 0; s < document.sheets.size(); ++s)
    for (const Group& group : document.sheets[s].groups)
      for (const Item& item : group.items)
        if (const auto* use = std::get_if<SymbolUse>(&item);
            use != nullptr && group.kind == "element")
          place[group.id] = {s, use->at};
  Faults faults;
  std::map<std::size_t, std::string> last;  // by bar
  for (const site::Run& run : site.runs) {
    if (site::facts<site::Busbar>(site.elements[run.from.element]) == nullptr || run.cable)
      continue;
    const std::string& device = site.elements[run.to.element].designation;
    const bool circuit =
        std::any_of(site.runs.begin(), site.runs.end(), [&](const site::Run& next) {
          return next.from.element == run.to.element &&
                 site::facts<site::LoadGroup>(site.elements[next.to.element]) != nullptr;
        });
    if (!circuit || !place.contains(device)) continue;
    std::string& before = last[run.from.element];
    // A bar that goes on further down begins at the left again.
    constexpr double shelf = 50.0;
    if (!before.empty() && place[before].sheet == place[device].sheet &&
        place[device].at.y < place[before].at.y + shelf && place[before].at.x >= place[device].at.x)
      faults.push_back(fmt::format("{} stands left of {}", device, before));
    before = device;
  }
  return faults;
}

Faults all_faults(const Document& document, const site::Site& site, const Metrics& metrics) {
  Faults faults;
  const auto add = [&](const Faults& some, const std::string& where) {
    for (const std::string& fault : some)
      faults.push_back(fmt::format("{}: {}", where, fault));
  };
  for (const Sheet& sheet : document.sheets) {
    add(covered_texts(sheet, metrics), sheet.name);
    add(wires_through_symbols(sheet, metrics), sheet.name);
    add(overlapping_symbols(sheet, metrics), sheet.name);
    add(overlapping_frames(sheet), sheet.name);
    add(outside_frame(sheet, metrics), sheet.name);
    add(small_texts(sheet), sheet.name);
    add(oblique_wires(sheet), sheet.name);
  }
  add(bent_feeders(document, site), "document");
  add(not_drawn_once(document, site), "document");
  add(dead_links(document), "document");
  add(out_of_order(document, site), "document");
  return faults;
}

}  // namespace linewright::tests
