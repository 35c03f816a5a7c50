// Reads drawn SVG sheets back through a real renderer: headless Chromium loads them with their own
// fonts and says where everything came to stand.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace linewright::tests::geometry {

/// A rectangle on the sheet, mm from its upper left corner.
struct Box {
  double left = 0.0;
  double top = 0.0;
  double right = 0.0;
  double bottom = 0.0;

  double width() const { return right - left; }
  double height() const { return bottom - top; }
};

struct Spot {
  double x = 0.0;
  double y = 0.0;
};

/// A group of the SVG, one for each piece of equipment, cable, table …
struct Group {
  std::string kind;
  std::map<std::string, std::string> data;  ///< "id", "from", "to", "kind"
};

/// Something that was drawn; `group` is an index into Sheet::groups.
struct Item {
  enum class Kind { text, symbol, path, disc, box };
  Kind kind = Kind::path;
  std::size_t group = 0;
  Box box;            ///< ink of a text from its capitals to its descenders, else the geometry's
  std::string words;  ///< of a text; of a symbol its name
  double size = 0.0;  ///< of a text its font size; of a path the width of its pen
  bool filled = false;
  bool run = false;                      ///< a wire of the site
  std::string ink;                       ///< of a stroke
  Spot at;                               ///< of a symbol its origin
  std::vector<std::vector<Spot>> lines;  ///< of a path, curves as chords; of a symbol its outlines
  double quarter_turns = 0.0;            ///< of a symbol
};

struct Sheet {
  std::string name;
  double width = 0.0;
  double height = 0.0;
  std::vector<Group> groups;
  std::vector<Item> items;
};

/// The sheets in their order, or why the browser could not tell.
struct Measured {
  std::vector<Sheet> sheets;
  std::string failure;
};

/// A drawn sheet: its name and its SVG.
struct Drawn {
  std::string name;
  std::string svg;
};

/// One run of the browser for all sheets.
Measured measure(const std::vector<Drawn>& sheets);

}  // namespace linewright::tests::geometry
