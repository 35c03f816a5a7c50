// A table of words, its cells wrapped, over as many sheets as it takes.
#pragma once

#include <string>
#include <vector>

#include "diagram/metrics.hpp"
#include "diagram/sheet.hpp"
#include "site/site.hpp"

namespace linewright::diagram {

/// What such a table is called and how it is divided. The first column is set in bold.
struct TableForm {
  std::string sheet_name;          ///< "findings": its sheets are "findings-1" …
  std::string title;               ///< "Findings"
  std::vector<std::string> heads;  ///< of the columns
  std::vector<double> widths;      ///< of the columns, mm; together `table_width`
};

/// How wide a table may be on the paper of a site, mm.
double table_width(const site::Site& site);

/// What a column takes for some words, their gap included, but not more than `most`, mm.
double column_for(const Metrics& metrics, const std::string& words, double most);

/// The table under way.
class WordTable {
 public:
  WordTable(const site::Site& site, const Metrics& metrics, const TableForm& form);

  /// A row, drawn into a group like the given one, whose items are not looked at.
  void add(const std::vector<std::string>& cells, const Group& like);
  /// A line over the whole width.
  void add_remark(const std::string& words);

  /// Its sheets, still without title blocks.
  std::vector<Sheet> sheets() && { return std::move(sheets_); }

 private:
  struct Row;
  Row row_of(const std::vector<std::string>& cells) const;
  void put(Group& group, const Row& row, double y, Ink ink);
  void begin_sheet();

  const site::Site& site_;
  const Metrics& metrics_;
  const TableForm& form_;
  Rect area_;
  std::vector<Sheet> sheets_;
  double y_ = 0.0;
};

}  // namespace linewright::diagram
