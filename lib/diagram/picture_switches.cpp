// Switches of a picture in the position they have: the arm closed, open, or on one of two throws.
#include <algorithm>
#include <array>
#include <utility>

#include "diagram/picture_draw.hpp"

namespace linewright::diagram {
namespace {

using site::none;

constexpr double dot = 1.0;

void put_dot(Group& group, Point at, const Look& look) {
  const bool lives = look.source > 0;
  const double r = lives ? dot / 2.0 : dot / 3.0;
  group.items.emplace_back(Box{.rect = {at.x - r, at.y - r, 2.0 * r, 2.0 * r},
                               .stroke = Stroke::symbol,
                               .fill = Ink::black});
}

// Designation and position; room for the longest word that any picture has there, so that all
// pictures are laid out alike. `at` is where the words begin, or end if they stand left, at the
// middle of their height.
void say(const Canvas& canvas, Group& group, Point at, std::size_t element, Words words) {
  const Metrics& metrics = canvas.sketch.metrics;
  const std::string& name = canvas.site.elements[element].designation;
  const SwitchId id{element, ""};
  const double width = metrics.text_width(name, text_height, Weight::bold);
  double longest = 0.0;
  for (const Picture& picture : canvas.set.pictures)
    longest = std::max(longest, metrics.text_width(position_words(position_of(picture, id)),
                                                   text_height, Weight::regular));
  const bool two = words != Words::in_line;
  const bool left = words == Words::left;
  const double first = two ? at.y - 0.5 : at.y + text_height / 2.0;
  const Point second{two ? at.x : at.x + width + words_gap, two ? first + line_pitch : first};
  const double room = std::max(width, second.x - at.x + longest);
  const Anchor anchor = left ? Anchor::end : Anchor::start;
  canvas.sketch.taken.push_back(
      {left ? at.x - room : at.x, first - text_height, room, second.y - first + text_height + 0.8});
  canvas.sketch.text(group,
                     {.at = {at.x, first}, .text = name, .weight = Weight::bold, .anchor = anchor});
  canvas.sketch.text(
      group,
      {.at = second, .text = position_words(position_of(canvas.picture, id)), .anchor = anchor});
}

void flag(const Canvas& canvas, Group& group, const Rect& around) {
  group.items.emplace_back(Box{.rect = around, .stroke = Stroke::flag});
  (void)canvas;
}

Group& switch_group(const Canvas& canvas, std::size_t element, const std::string& position) {
  const site::Element& what = canvas.site.elements[element];
  Group& group = picture_group(canvas, "picture-switch", what.designation,
                               what.designation + " " + position, describe(canvas.site, element));
  group.data["position"] = position;
  return group;
}

// The split of a PEN: the line goes through, neutral and earth part from it.
void draw_split(const Canvas& canvas, const Stood& device) {
  const Point top = canvas.at(device.top);
  const Point bottom = canvas.at(device.bottom);
  const Feed& feed = feed_at(canvas, device.above);
  Group& line = picture_group(canvas, "picture-line", "", "", "fed by " + feed_words(canvas, feed));
  line.data["feed"] = feed_words(canvas, feed);
  if (device.above.element != none)
    line.data["terminal"] = terminal_words(canvas.site, device.above);
  draw_fed(canvas, line, {top, bottom}, look_of(canvas, feed, Thick::line));
  const bool works = std::ranges::count(canvas.picture.bonds, device.element) > 0;
  Group& group =
      picture_group(canvas, "picture-bond", canvas.site.elements[device.element].designation,
                    canvas.site.elements[device.element].designation, "PEN split");
  group.data["works"] = works ? "yes" : "no";
  const Point side{top.x - bond_room / 2.0 - 0.4, top.y + 1.0};
  canvas.sketch.line(group, {{top.x, side.y}, side}, works ? Stroke::frame : Stroke::dead);
  draw_earth(canvas, group, {side, "", works});
}

std::string throw_at(const site::Site& site, std::size_t element, const std::string& position) {
  const auto* device = site::facts<site::Device>(site.elements[element]);
  if (device == nullptr) return {};
  for (const site::Throw& one : device->throws)
    if (one.position == position) return one.terminal;
  return {};
}

}  // namespace

void draw_picture_switch(const Canvas& canvas, const Stood& device) {
  if (site::facts<site::PenSplit>(canvas.site.elements[device.element]) != nullptr)
    return draw_split(canvas, device);
  const SwitchId id{device.element, ""};
  const std::string position = position_of(canvas.picture, id);
  const Point top = canvas.at(device.top);
  const Point bottom = canvas.at(device.bottom);
  const double height = bottom.y - top.y;
  const Point contact{top.x, top.y + height / 3.0};
  const Point pivot{top.x, top.y + 2.0 * height / 3.0};
  const Look above = look_of(canvas, feed_at(canvas, device.above), Thick::line);
  const Look below = look_of(canvas, feed_at(canvas, device.below), Thick::line);
  Group& group = switch_group(canvas, device.element, position);
  draw_fed(canvas, group, {top, contact}, above);
  draw_fed(canvas, group, {pivot, bottom}, below);
  const Point open{pivot.x - height / 5.0, pivot.y - height / 3.0};
  draw_fed(canvas, group, {pivot, position == "closed" ? contact : open}, below);
  put_dot(group, pivot, below);
  canvas.sketch.line(group, {{contact.x - 0.8, contact.y}, {contact.x + 0.8, contact.y}},
                     Stroke::symbol);
  const double side =
      device.words == Words::left ? -std::max(height / 5.0 + 0.5, 2.6) : device_words;
  say(canvas, group, {top.x + side, (contact.y + pivot.y) / 2.0 - 0.6}, device.element,
      device.words);
  if (is_moved(canvas.picture, id))
    flag(canvas, group, {top.x - 2.2, contact.y - 1.0, 3.8, pivot.y - contact.y + 2.0});
}

void draw_picture_changeover(const Canvas& canvas, std::size_t hub) {
  const PictureLayout& layout = canvas.layout;
  const Drawing drawing = layout.drawing();
  const std::size_t element = layout.what.plan.hubs[hub].element;
  const SwitchId id{element, ""};
  const std::string position = position_of(canvas.picture, id);
  const double x = hub_x(drawing, hub);
  const double y = hub_y(drawing, hub);
  const std::string left = left_throw(drawing, hub);
  const std::string to = throw_at(canvas.site, element, position);
  Group& group = switch_group(canvas, element, position);
  const auto feed_of = [&](const std::string& port) {
    return look_of(canvas, feed_at(canvas, terminal_of(layout, hub, port)), Thick::line);
  };
  for (const std::string& port : canvas.site.elements[element].terminals) {
    if (port == "common") continue;
    const double side = port == left ? -1.0 : 1.0;
    const Point inner = canvas.at(x + side * 2.5, y + 5.0);
    draw_fed(canvas, group,
             {canvas.at(x + side * 5.0, y), canvas.at(x + side * 5.0, y + 2.5),
              canvas.at(x + side * 2.5, y + 2.5), inner},
             feed_of(port));
    canvas.sketch.line(group, {{inner.x - 0.7, inner.y}, {inner.x + 0.7, inner.y}}, Stroke::symbol);
  }
  const Look common = feed_of("common");
  const Point pivot = canvas.at(x, y + 10.0);
  draw_fed(canvas, group, {pivot, canvas.at(x, y + 15.0)}, common);
  const double lean = to.empty() ? 0.0 : (to == left ? -2.5 : 2.5);
  draw_fed(canvas, group, {pivot, canvas.at(x + lean, y + 5.0)}, common);
  put_dot(group, pivot, common);
  const Point corner = canvas.at(x + 5.0, y + 7.0);
  constexpr double below_way = 3.5;  // mm, below the way of a fault that comes from the right
  const double level = std::max(corner.y, canvas.at(x, y).y + below_way);
  say(canvas, group, {corner.x + 1.7, level}, element, Words::in_line);
  if (is_moved(canvas.picture, id)) {
    const Point a = canvas.at(x - 4.0, y + 3.5);
    const Point b = canvas.at(x + 4.0, y + 11.5);
    flag(canvas, group, {a.x, a.y, b.x - a.x, b.y - a.y});
  }
}

}  // namespace linewright::diagram
