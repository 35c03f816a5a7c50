#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "diagram/draw.hpp"

namespace linewright::diagram {
namespace {

using site::none;

std::string means_word(site::InterlockMeans means) {
  switch (means) {
    case site::InterlockMeans::mechanical:
      return "mechanical interlock";
    case site::InterlockMeans::key:
      return "key interlock";
    case site::InterlockMeans::electrical:
      return "electrical interlock";
    case site::InterlockMeans::control:
      return "interlock by control";
    case site::InterlockMeans::unknown:
      return "interlock";
  }
  return "interlock";
}

/// Where the drive of a switching element is reached from its left, and where its ink ends there.
struct Drive {
  Point at;
  double clear = 0.0;
};

// Nothing if the element is not on this sheet.
std::optional<Drive> drive_of(const site::Site& site, const Sketch& sketch, std::size_t element) {
  const std::string& id = site.elements[element].designation;
  for (const Group& group : sketch.sheet.groups) {
    if (group.kind != "element" || group.id != id) continue;
    for (const Item& item : group.items) {
      const auto* use = std::get_if<SymbolUse>(&item);
      if (use == nullptr) continue;
      const double ink = use->at.x + shape_of(sketch.metrics, use->symbol).bounds.x;
      double x = use->at.x - 1.25;
      if (use->symbol.starts_with("changeover")) x = use->at.x;
      if (use->symbol == "neutral-earth-contact") x = ink;
      return Drive{{x, use->at.y + 7.5}, ink - 0.5};
    }
  }
  return std::nullopt;
}

Rect around(Point a, Point b, double room) {
  return {std::min(a.x, b.x) - room, std::min(a.y, b.y) - room, std::abs(a.x - b.x) + 2 * room,
          std::abs(a.y - b.y) + 2 * room};
}

bool is_wire(const Rect& rect) {
  return std::min(rect.width, rect.height) <= 1.0 + 1e-6;
}

// What a stretch of the link costs: lines may be crossed, not followed; all else is in the way.
std::optional<double> stretch_cost(const Sketch& sketch, Point a, Point b) {
  constexpr double crossing = 6.0;
  double cost = std::abs(a.x - b.x) + std::abs(a.y - b.y);
  const Rect way = around(a, b, 0.4);
  const bool level = a.y == b.y;
  for (const Rect& other : sketch.taken) {
    const bool wire = is_wire(other);
    const bool alongside = wire && (other.width > other.height) == level;
    if (!overlap(alongside ? around(a, b, 1.25) : way, other)) continue;
    if (!wire || alongside) return std::nullopt;
    cost += crossing;
  }
  return cost;
}

using Way = std::vector<Point>;

// From both drives to the left, then up or down to a common height and across.
std::optional<Way> find_way(const Sketch& sketch, const Drive& a, const Drive& b) {
  constexpr std::array<double, 5> stubs{2.0, 3.25, 4.5, 5.75, 8.25};
  constexpr double reach = 30.0;
  std::optional<Way> best;
  double least = 1e9;
  const double top = std::min(a.at.y, b.at.y) - reach;
  const double bottom = std::max(a.at.y, b.at.y) + reach;
  for (const double left : stubs) {
    for (const double right : stubs) {
      for (double y = top; y <= bottom; y += 1.25) {
        const double from = a.clear - left;
        const double to = b.clear - right;
        const Way clear{{a.clear, a.at.y}, {from, a.at.y}, {from, y},
                        {to, y},           {to, b.at.y},   {b.clear, b.at.y}};
        double cost = 0.0;
        for (std::size_t i = 1; i < clear.size() && cost < least; ++i) {
          const auto part = stretch_cost(sketch, clear[i - 1], clear[i]);
          cost = part ? cost + *part : 1e9;
        }
        if (cost >= least) continue;
        least = cost;
        best = clear;
        best->front() = a.at;
        best->back() = b.at;
      }
    }
  }
  return best;
}

// The mark of the interlock on the longest level stretch, its words where there is room beside it.
void mark(Sketch& sketch, Group& group, const Way& way, const site::Interlock& interlock) {
  std::size_t longest = 1;
  for (std::size_t i = 1; i < way.size(); ++i)
    if (std::abs(way[i].x - way[i - 1].x) > std::abs(way[longest].x - way[longest - 1].x))
      longest = i;
  const double left = std::min(way[longest].x, way[longest - 1].x);
  const double right = std::max(way[longest].x, way[longest - 1].x);
  const double y = way[longest].y;
  const std::string symbol =
      interlock.means == site::InterlockMeans::key ? "key-interlock" : "interlock";
  const std::string words = means_word(interlock.means);
  const double width = sketch.metrics.text_width(words, text_height, Weight::regular);
  Point best{(left + right) / 2.0, y};
  for (double x = left + 3.0; x <= right - 3.0; x += 1.25) {
    if (!sketch.is_free({x - 2.0, y - 2.0, 4.0, 4.0})) continue;
    best.x = x;
    if (sketch.is_free({x + 2.0, y - 1.0 - text_height, width + 1.0, text_height + 1.5})) break;
  }
  for (std::size_t i = 1; i < way.size(); ++i)
    sketch.line(group, {way[i - 1], way[i]}, Stroke::mechanical);
  sketch.symbol(group, symbol, best);
  std::vector<Point> spots{{best.x + 2.5, y - 0.9},
                           {best.x - 2.5 - width, y - 0.9},
                           {best.x + 2.5, y + 3.4},
                           {best.x - 2.5 - width, y + 3.4}};
  for (double x = left - 20.0; x <= right; x += 1.25) {
    spots.push_back({x, y - 0.9});
    spots.push_back({x, y + 3.4});
  }
  const std::vector<Rect> frames = frame_lines(sketch.sheet);
  const auto free = std::find_if(spots.begin(), spots.end(), [&](Point at) {
    const Rect room{at.x - 0.5, at.y - text_height, width + 1.0, text_height + 0.6};
    const bool crosses =
        std::ranges::any_of(frames, [&](const Rect& line) { return overlap(line, room); });
    return !crosses && sketch.is_free(room);
  });
  if (free != spots.end()) sketch.text(group, {.at = *free, .text = words, .ink = Ink::grey});
}

}  // namespace

void draw_interlocks(const site::Site& site, Sketch& sketch) {
  for (const site::Interlock& interlock : site.interlocks) {
    const auto& positions = interlock.never_together;
    for (std::size_t i = 1; i < positions.size(); ++i) {
      auto a = drive_of(site, sketch, positions[i - 1].element);
      auto b = drive_of(site, sketch, positions[i].element);
      if (!a || !b || positions[i - 1].element == positions[i].element) continue;
      if (b->at.x < a->at.x) std::swap(a, b);
      const auto way = find_way(sketch, *a, *b);
      if (!way) continue;
      Group& group = sketch.group("interlock", "",
                                  means_word(interlock.means) + " of " +
                                      site.elements[positions[i - 1].element].designation +
                                      " and " + site.elements[positions[i].element].designation,
                                  "They can not be closed together.");
      mark(sketch, group, *way, interlock);
    }
  }
}

}  // namespace linewright::diagram
