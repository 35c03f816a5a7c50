#include "diagram/picture_draw.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/core.h>

namespace linewright::diagram {

using site::none;
using Hanging = PictureHub::Hanging;

std::string position_of(const Picture& picture, const SwitchId& id) {
  const auto found = picture.positions.find(id);
  return found == picture.positions.end() ? "closed" : found->second;
}

bool is_moved(const Picture& picture, const SwitchId& id) {
  return std::ranges::count(picture.moved, id) > 0;
}

Group& picture_group(const Canvas& canvas, const std::string& kind, const std::string& id,
                     const std::string& title, const std::string& description) {
  Group& group = canvas.sketch.group(kind, id.empty() ? "" : canvas.picture.name + " " + id, title,
                                     description);
  group.data["picture"] = canvas.picture.name;
  return group;
}

std::string mark_of_source(const PictureSet& set, std::size_t source) {
  const auto found = std::ranges::find(set.sources, source);
  if (found == set.sources.end()) return "?";
  const auto index = static_cast<std::size_t>(found - set.sources.begin());
  constexpr std::string_view letters = "ABCDEFGHJKLMNPQRSTUVWXYZ";
  return index < letters.size() ? std::string(1, letters[index]) : fmt::format("{}", index + 1);
}

const Feed& feed_at(const Canvas& canvas, site::Terminal terminal) {
  static const Feed dead;
  const auto& feeds = canvas.picture.feeds;
  if (terminal.element >= feeds.size() || terminal.terminal >= feeds[terminal.element].size())
    return dead;
  return feeds[terminal.element][terminal.terminal];
}

Look look_of(const Canvas& canvas, const Feed& feed, Thick thick) {
  if (!feed.sources.empty()) {
    const auto found = std::ranges::find(canvas.set.sources, feed.sources.front());
    return {thick == Thick::bar ? Stroke::live_bar : Stroke::live,
            static_cast<int>(found - canvas.set.sources.begin()) + 1};
  }
  if (feed.undecided) return {Stroke::undecided, 0};
  return {thick == Thick::bar ? Stroke::dead_bar : Stroke::dead, 0};
}

std::string feed_words(const Canvas& canvas, const Feed& feed) {
  if (feed.sources.empty()) return feed.undecided ? "undecided" : "dead";
  std::string words;
  for (const std::size_t source : feed.sources)
    words += (words.empty() ? "" : " + ") + canvas.site.elements[source].designation;
  return words;
}

std::string feed_marks(const PictureSet& set, const Feed& feed) {
  std::string marks;
  for (const std::size_t source : feed.sources)
    marks += mark_of_source(set, source);
  return marks.empty() && feed.undecided ? "?" : marks;
}

void draw_fed(const Canvas& canvas, Group& group, const std::vector<Point>& points,
              const Look& look) {
  canvas.sketch.line(group, points, look.stroke);
  std::get<Polyline>(group.items.back()).source = look.source;
}

double tag_width(const Metrics& metrics, const std::string& marks) {
  return std::max(tag_diameter, metrics.text_width(marks, text_height, Weight::bold) + 1.6);
}

double draw_tag(const Canvas& canvas, Group& group, Point at, const std::string& marks) {
  const double width = tag_width(canvas.sketch.metrics, marks);
  const Rect ring{at.x - width / 2.0, at.y - tag_diameter / 2.0, width, tag_diameter};
  group.items.emplace_back(Box{.rect = ring, .stroke = Stroke::tag, .fill = Ink::white});
  canvas.sketch.taken.push_back(ring);
  canvas.sketch.text(group, {.at = {at.x, at.y + text_height / 2.0},
                             .text = marks,
                             .weight = Weight::bold,
                             .anchor = Anchor::middle});
  return width;
}

namespace {

// Assemblies with more than one point are shown as quiet areas.
void draw_areas(const Canvas& canvas) {
  const Plan& plan = canvas.layout.what.plan;
  for (std::size_t f = 0; f < plan.frames.size(); ++f) {
    const std::size_t assembly = plan.frames[f].assembly;
    if (assembly == none || !is_area(plan, f)) continue;
    const Rect& rect = canvas.layout.placed.frames[f];
    const Point corner = canvas.at(rect.x, rect.y);
    Group& group =
        picture_group(canvas, "picture-area", "", canvas.site.assemblies[assembly].name, "");
    group.items.emplace_back(Box{.rect = {corner.x, corner.y, rect.width * canvas.layout.scale,
                                          rect.height * canvas.layout.scale},
                                 .stroke = Stroke::hairline,
                                 .fill = Ink::pale});
  }
}

// The first place that is free; the first of all where none is.
Point first_free(const Canvas& canvas, const std::vector<Point>& spots, double width,
                 double height) {
  for (const Point& spot : spots)
    if (canvas.sketch.is_free({spot.x, spot.y, width, height})) return spot;
  return spots.front();
}

// The first place with room to both sides, so that two words never read as one; else as above.
Point roomiest(const Canvas& canvas, const std::vector<Point>& spots, double width, double height) {
  constexpr double room = 1.2;
  for (const Point& spot : spots)
    if (canvas.sketch.is_free({spot.x - room, spot.y, width + 2.0 * room, height})) return spot;
  return first_free(canvas, spots, width, height);
}

// Whether a place that is taken is that of the bar itself: its own mark may stand there.
bool is_own(const Rect& taken, Point left, Point right) {
  constexpr double rim = 0.1;
  return std::abs(taken.y + taken.height / 2.0 - left.y) < rim &&
         taken.width > right.x - left.x - rim && taken.x < left.x + rim;
}

/// Where the mark of a bar may stand, best first.
struct TagSpots {
  std::vector<Point> off_ends;
  std::vector<Point> on_bar;  ///< the bar passes behind it
};

TagSpots tag_spots(Point left, Point right, double width) {
  constexpr double step = 0.6;
  TagSpots spots;
  const double y = left.y - tag_diameter / 2.0;
  for (double away = 0.9; away < 8.0; away += step) {
    for (const double rise : {0.0, 0.8, 1.6, 2.4, -1.6}) {
      spots.off_ends.push_back({right.x + away, y - rise});
      spots.off_ends.push_back({left.x - away - width, y - rise});
    }
  }
  for (double x = right.x - width - 1.0; x > left.x + 1.0; x -= step)
    spots.on_bar.push_back({x, y});
  return spots;
}

// Off the ends where it is free, inside the area of the bar if it has one; else on the bar; the
// first place of all where none is free.
Point spot_of_tag(const Canvas& canvas, std::size_t hub, Point left, Point right, double width) {
  const PictureLayout& layout = canvas.layout;
  const std::size_t frame = layout.what.plan.hubs[hub].frame;
  const Rect& rect = layout.placed.frames[frame];
  const double inner_left = canvas.at(rect.x, rect.y).x;
  const double inner_right = inner_left + rect.width * layout.scale;
  const TagSpots spots = tag_spots(left, right, width);
  const auto is_inside = [&](Point spot) {
    return !is_area(layout.what.plan, frame) ||
           (spot.x >= inner_left && spot.x + width <= inner_right);
  };
  const auto is_free = [&](Point spot) {
    return canvas.sketch.is_free({spot.x, spot.y, width, tag_diameter});
  };
  for (const Point& spot : spots.off_ends)
    if (is_inside(spot) && is_free(spot)) return spot;
  for (const Point& spot : spots.on_bar) {
    const Rect room{spot.x - 0.6, spot.y, width + 1.2, tag_diameter};
    if (std::ranges::none_of(canvas.sketch.taken, [&](const Rect& other) {
          return overlap(room, other) && !is_own(other, left, right);
        }))
      return spot;
  }
  for (const Point& spot : spots.off_ends)
    if (is_free(spot)) return spot;
  return spots.off_ends.front();
}

// The mark of what a bar is alive from; room is kept for the widest of all pictures.
void tag_bar(const Canvas& canvas, std::size_t hub) {
  const PictureLayout& layout = canvas.layout;
  const Feed& feed = feed_at(canvas, terminal_of(layout, hub, ""));
  const Point left = canvas.at(layout.placed.bar_left[hub], hub_y(layout.drawing(), hub));
  const Point right = canvas.at(layout.placed.bar_right[hub], hub_y(layout.drawing(), hub));
  double widest_tag = tag_diameter;
  for (const Picture& picture : canvas.set.pictures) {
    const Canvas other{canvas.site, canvas.set, picture, layout, canvas.sketch, canvas.origin};
    const Feed& there = feed_at(other, terminal_of(layout, hub, ""));
    widest_tag =
        std::max(widest_tag, tag_width(canvas.sketch.metrics, feed_marks(canvas.set, there)));
  }
  const Point spot = spot_of_tag(canvas, hub, left, right, widest_tag);
  canvas.sketch.taken.push_back({spot.x, spot.y, widest_tag, tag_diameter});
  const std::string marks = feed_marks(canvas.set, feed);
  if (marks.empty()) return;
  Group& group = picture_group(canvas, "picture-tag", "", "", "");
  const double width = tag_width(canvas.sketch.metrics, marks);
  const bool at_left = spot.x < left.x;
  const double middle = at_left ? spot.x + widest_tag - width / 2.0 : spot.x + width / 2.0;
  draw_tag(canvas, group, {middle, spot.y + tag_diameter / 2.0}, marks);
}

// At the left of the only bar of a board, where the layout keeps room for it.
std::vector<Point> beside_bar(const Canvas& canvas, std::size_t frame, double width) {
  const PictureLayout& layout = canvas.layout;
  const auto& hubs = layout.what.plan.hubs;
  const auto hub = std::ranges::find(hubs, frame, &Hub::frame);
  if (hub == hubs.end()) return {};
  const auto index = static_cast<std::size_t>(hub - hubs.begin());
  const Point end = canvas.at(layout.placed.bar_left[index], hub_y(layout.drawing(), index));
  return {{end.x - width - 0.7, end.y - text_height / 2.0}};
}

// The designation of an assembly: beside the bar of a board; in an area above its first bar, else
// in a corner of its area.
void name_frame(const Canvas& canvas, std::size_t frame) {
  const PictureLayout& layout = canvas.layout;
  const std::size_t assembly = layout.what.plan.frames[frame].assembly;
  if (assembly == none) return;
  Text text{.at = {}, .text = canvas.site.assemblies[assembly].designation, .weight = Weight::bold};
  const double width = canvas.sketch.metrics.text_width(text.text, text.height, text.weight);
  const Rect& rect = layout.placed.frames[frame];
  const Point low = canvas.at(rect.x, rect.y);
  const double right = low.x + rect.width * layout.scale;
  const double bottom = low.y + rect.height * layout.scale;
  std::vector<Point> spots;
  const bool area = is_area(layout.what.plan, frame);
  if (!area) spots = beside_bar(canvas, frame, width);
  for (const double y : {low.y + 0.8, low.y + 1.6, bottom - text_height - 1.0, low.y + 2.8,
                         low.y - 0.4, bottom - text_height + 1.0})
    for (double x = low.x + 0.8; x + width <= right + 0.1; x += 0.6)
      spots.push_back({x, y});
  for (const double y : {low.y + 0.8, low.y + 2.0})
    for (double away = 0.0; away < 8.0; away += 0.6) {
      spots.push_back({low.x - width - away, y});
      spots.push_back({right + away, y});
    }
  const Point spot = area ? roomiest(canvas, spots, width, text_height + 0.8)
                          : first_free(canvas, spots, width, text_height + 0.8);
  text.at = {spot.x, spot.y + text_height};
  Group& group = picture_group(canvas, "picture-board", text.text,
                               text.text + " " + canvas.site.assemblies[assembly].name, "");
  canvas.sketch.text(group, text);
}

// What may stand in several places comes last, after the boards, for whose marks the layout keeps
// room; the ways of faults beside the lines are kept free.
void draw_names(const Canvas& canvas) {
  const Plan& plan = canvas.layout.what.plan;
  for (const bool areas : {false, true})
    for (std::size_t h = 0; h < plan.hubs.size(); ++h) {
      const Hub& hub = plan.hubs[h];
      const bool flat = hub.kind == HubKind::bar || hub.kind == HubKind::joint;
      if (!flat || hub.frame == none) continue;
      if (is_area(plan, hub.frame) == areas) tag_bar(canvas, h);
    }
  for (std::size_t f = 0; f < plan.frames.size(); ++f)
    name_frame(canvas, f);
}

}  // namespace

void draw_picture(const Canvas& canvas) {
  draw_areas(canvas);
  draw_picture_halo(canvas);
  draw_picture_lines(canvas);
  const Plan& plan = canvas.layout.what.plan;
  for (std::size_t h = 0; h < plan.hubs.size(); ++h)
    if (plan.hubs[h].kind == HubKind::changeover) draw_picture_changeover(canvas, h);
  draw_picture_sources(canvas);
  draw_picture_earths(canvas);
  draw_picture_loop(canvas);
  draw_names(canvas);
}

}  // namespace linewright::diagram
