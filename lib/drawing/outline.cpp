#include "drawing/outline.hpp"

#include <algorithm>
#include <optional>
#include <utility>

namespace linewright::drawing {
namespace {

/// A board with its frame on the sheet.
struct Board {
  Rect frame;
  std::size_t bookmark = 0;
};

std::optional<Rect> frame_of(const DrawnGroup& group) {
  for (const Mark& mark : group.marks)
    if (const auto* shape = std::get_if<Shape>(&mark)) return bounds(shape->path);
  return std::nullopt;
}

Bookmark bookmark_of(const DrawnGroup& group) {
  std::string title = group.title.empty() ? group.id : group.title;
  if (!title.starts_with(group.id) && group.kind == "element") title = group.id + " " + title;
  return {std::move(title), group.mark, {}};
}

bool holds(const Rect& frame, Point at) {
  return at.x >= frame.x && at.x <= frame.x + frame.width && at.y >= frame.y &&
         at.y <= frame.y + frame.height;
}

}  // namespace

std::vector<Bookmark> bookmarks_of(const DisplayList& sheet) {
  constexpr std::size_t most_inside = 60;
  std::vector<Bookmark> result;
  std::vector<Board> boards;
  for (const DrawnGroup& group : sheet.groups) {
    if (group.mark.empty() || (group.kind != "boundary" && group.kind != "picture")) continue;
    if (const auto frame = frame_of(group); frame && group.kind == "boundary")
      boards.push_back({*frame, result.size()});
    result.push_back(bookmark_of(group));
  }
  for (const DrawnGroup& group : sheet.groups) {
    if (group.mark.empty() || group.kind != "element") continue;
    const Point at = corner_of(group);
    const auto board =
        std::ranges::find_if(boards, [&](const Board& one) { return holds(one.frame, at); });
    auto& into = board == boards.end() ? result : result[board->bookmark].inside;
    into.push_back(bookmark_of(group));
  }
  for (Bookmark& bookmark : result)
    if (bookmark.inside.size() > most_inside) bookmark.inside.clear();
  return result;
}

Point corner_of(const DrawnGroup& group) {
  Rect box;
  const auto include = [&](const Rect& r) { box = unite(box, r); };
  for (const Mark& mark : group.marks) {
    if (const auto* shape = std::get_if<Shape>(&mark)) include(bounds(shape->path));
    if (const auto* disc = std::get_if<Disc>(&mark))
      include(grown({disc->centre.x, disc->centre.y}, 1.0));
    if (const auto* text = std::get_if<Lettering>(&mark))
      include({text->at.x, text->at.y - text->size, 1.0, text->size});
    if (const auto* use = std::get_if<Placement>(&mark))
      include(grown({use->at.x, use->at.y}, 1.0));
  }
  return {box.x, box.y};
}

}  // namespace linewright::drawing
