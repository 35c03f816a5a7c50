// What every sheet has round its diagram: frame with zones, title block, revisions.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "diagram/sketch.hpp"
#include "site/site.hpp"

namespace linewright::diagram {

/// A trimmed sheet with its frame and zones after ISO 5457 and room for a title block of ISO 7200
/// (see the reference page on drawing conventions for what of it is from memory). The filing margin
/// is at the left, however the sheet stands.
struct Paper {
  std::string name;  ///< "A4 portrait"
  double width = 0.0;
  double height = 0.0;
  Rect frame;
  std::size_t columns = 0;  ///< of zones, counted from the left
  std::size_t rows = 0;     ///< of zones, lettered from the top

  static constexpr double title_width = 180.0;
  static constexpr double title_height = 50.0;
  static constexpr double caution_height = 5.5;
  static constexpr double revision_row = 5.0;

  /// Whether it is A4, on which the diagram alone has room.
  bool is_small() const { return width < 300.0 && height < 300.0; }

  double right() const { return frame.x + frame.width; }
  double bottom() const { return frame.y + frame.height; }

  /// Left edge of the title block, which stands in the lower right corner; on A4 portrait it takes
  /// the whole width.
  double title_left() const { return right() - title_width; }

  /// Whether something of that width has room beside the title block.
  bool has_beside_title(double room) const { return title_left() - frame.x >= room; }
};

Paper paper_of(const site::PaperFormat& format);

/// The frame of a sheet, by its size.
Rect frame_of(const Sheet& sheet);

/// The paper that a site is drawn on.
Paper paper_of(const site::Site& site);

/// The paper of a sheet, by its size.
Paper paper_of(const Sheet& sheet);

/// The paper to take for what finds no place on the given one: the next larger one, lying, which
/// folds to the smaller ones. Nothing beyond A0.
std::optional<Paper> larger_than(const Paper& paper);

/// An empty sheet of a paper.
Sheet sheet_of(const Paper& paper, std::string name, std::string title);

/// What the title block of one sheet says besides the site's own data.
struct SheetFacts {
  std::string title;
  std::string supplement;
  std::string remark;  ///< "has open dangers"
  std::string document_type;
  std::string rules;
  int number = 1;
  int count = 1;
};

/// Upper edge of the revision table, which stands on the title block.
double title_top(const site::Site& site, const Paper& paper);

/// "C4": the zone of a point on the sheet.
std::string zone_of(const Paper& paper, Point at);

void draw_frame(Sketch& sketch);
/// Gives a sheet its title block, right after its frame: who reads the sheet in order, or hears it
/// read, learns first what it is.
void add_title_block(const site::Site& site, const SheetFacts& facts, const Metrics& metrics,
                     Sheet& sheet);

}  // namespace linewright::diagram
