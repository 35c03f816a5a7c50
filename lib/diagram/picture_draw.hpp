// Draws one picture, and the ways through it.
#pragma once

#include <vector>

#include "diagram/picture_layout.hpp"
#include "diagram/sketch.hpp"

namespace linewright::diagram {

/// One picture on its sheet.
struct Canvas {
  const site::Site& site;
  const PictureSet& set;
  const Picture& picture;
  const PictureLayout& layout;
  Sketch& sketch;
  Point origin;  ///< of the layout, on the sheet

  Point at(double x, double y) const {
    return {origin.x + x * layout.scale, origin.y + y * layout.scale};
  }
  Point at(Point p) const { return at(p.x, p.y); }
};

/// A line of a picture between two of its devices or ends; points of the layout.
struct Stretch {
  std::vector<Point> way;
  site::Terminal terminal;  ///< one of those that are this conductor
};

/// A device in a line.
struct Stood {
  std::size_t element = site::none;
  Point top;
  Point bottom;
  site::Terminal above;
  site::Terminal below;
  Words words = Words::in_line;
};

/// What a chain of the plan is drawn as, from its upper to its lower end.
struct ChainDrawing {
  std::vector<Stretch> stretches;
  std::vector<Stood> devices;

  std::vector<Point> way() const;  ///< all of it
};

ChainDrawing chain_drawing(const PictureLayout& layout, const PictureSet& set, std::size_t chain);

/// A terminal that is the conductor of a hub; of the port where it has ports.
site::Terminal terminal_of(const PictureLayout& layout, std::size_t hub, const std::string& port);

/// The height of the lowest port of a symbol.
double lowest_port(const SymbolShape& shape);

inline constexpr double contact_rise = 0.9;  ///< mm of an inverter's contact above its lower edge

/// Where lines through a hub meet: on its bar, at its axis. Points of the layout.
Point middle_of(const PictureLayout& layout, std::size_t hub);

/// The end of a chain at its upper or lower hub, on the layout.
Point end_at(const PictureLayout& layout, const PictureSet& set, std::size_t chain,
             std::size_t hub);

/// Where the earth of a joint beside a source ends; `index` counts them from its symbol.
Point bond_axis(const PictureLayout& layout, std::size_t hub, std::size_t index);

/// The lines that follow pieces of the site through the picture; one more wherever the way leaves
/// it, as through the ground.
std::vector<std::vector<Point>> traced(const PictureLayout& layout, const PictureSet& set,
                                       const std::vector<Piece>& pieces);

/// The line `distance` mm to the right of another, as one sees it who walks along.
std::vector<Point> beside(const std::vector<Point>& way, double distance);

/// Draws everything of the picture but its heading.
void draw_picture(const Canvas& canvas);

// The parts of it, one file each.
void draw_picture_lines(const Canvas& canvas);
void draw_picture_switch(const Canvas& canvas, const Stood& device);
void draw_picture_changeover(const Canvas& canvas, std::size_t hub);
void draw_picture_sources(const Canvas& canvas);
void draw_picture_earths(const Canvas& canvas);
void draw_picture_loop(const Canvas& canvas);
void draw_picture_halo(const Canvas& canvas);

/// A joint with earth hanging from a point of the sheet.
struct Hung {
  Point from;
  std::string position;  ///< of its contact; "" where it has none
  bool works = false;    ///< it is the joint of something alive
};
void draw_earth(const Canvas& canvas, Group& group, const Hung& earth);

/// How a conductor with such a feed is drawn.
struct Look {
  Stroke stroke = Stroke::dead;
  int source = 0;
};
enum class Thick { line, bar };
const Feed& feed_at(const Canvas& canvas, site::Terminal terminal);
Look look_of(const Canvas& canvas, const Feed& feed, Thick thick);
/// "supply", "-T1 + -T2", "dead", "undecided".
std::string feed_words(const Canvas& canvas, const Feed& feed);
/// The marks of the sources: "A", "CD"; "?" where the file leaves it open.
std::string feed_marks(const PictureSet& set, const Feed& feed);
/// "A" for the first source of the set.
std::string mark_of_source(const PictureSet& set, std::size_t source);

/// A line with the look of its feed; the group is told what it is alive from.
void draw_fed(const Canvas& canvas, Group& group, const std::vector<Point>& points,
              const Look& look);
/// The ring with the mark of a source; its middle at `at`. Width of the ring comes back.
double draw_tag(const Canvas& canvas, Group& group, Point at, const std::string& marks);
double tag_width(const Metrics& metrics, const std::string& marks);

/// The position of a switch in the picture; "closed" where the picture has none.
std::string position_of(const Picture& picture, const SwitchId& id);
/// Whether what is moved for a hazard is this switch.
bool is_moved(const Picture& picture, const SwitchId& id);
/// A group of this picture; ids are unique on the sheet since the picture's name leads them.
Group& picture_group(const Canvas& canvas, const std::string& kind, const std::string& id,
                     const std::string& title, const std::string& description);

/// The box of an inverter on the sheet.
Rect inverter_box(const Canvas& canvas, std::size_t hub);

}  // namespace linewright::diagram
