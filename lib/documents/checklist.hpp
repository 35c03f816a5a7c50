// The items that authorities and distributors ask for, and where a drawing answers each of them.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "documents/permit_lines.hpp"

namespace linewright::documents {

/// What stands on a sheet as one thing: an element, a cable, a block of notes, the title block.
struct DrawnGroup {
  int sheet = 1;     ///< number of its sheet
  std::string zone;  ///< "C4", where it stands; empty if it has no ink
  std::string kind;  ///< "element", "run", "boundary", "notes", "title-block" …
  std::string id;    ///< designation, if it has one
  std::string text;  ///< all its words in the order of reading
};

/// One item of the merged list of permit and connection checklists.
struct ChecklistItem {
  int number = 0;
  std::string_view group;     ///< "Protection"
  std::string_view item;      ///< what is asked for
  std::string_view asked_by;  ///< countries and kinds of bodies
  std::string_view where;     ///< D diagram, T title block, N notes, S schedule, W notices, P plan,
                              ///< A attached paper
  std::string_view key;       ///< of the site file that supplies it
  std::string_view example;   ///< a line of the file that does
  bool site_only = false;     ///< whole or in part from a person on site or a signatory only
};

/// How a drawing stands to an item.
enum class Standing {
  shown,     ///< it is on the drawing
  missing,   ///< it is not
  on_site,   ///< only a person on site can supply it: the drawing has a labelled space
  not_here,  ///< this site has nothing that it is asked of
  elsewhere  ///< it belongs on another paper
};

/// Something that the file has to say before an item is answered.
struct Gap {
  std::string at;  ///< designation, or empty for the whole site
  std::string key;
  std::string example;
};

/// The answer to one item.
struct ChecklistAnswer {
  const ChecklistItem* item = nullptr;
  Standing standing = Standing::missing;
  std::vector<std::string> places;  ///< "1/C4": sheet and zone; shown and on site only
  std::vector<Gap> gaps;            ///< missing only
  std::string remark;               ///< one clause, may be empty
};

/// All items in the order of the list.
std::span<const ChecklistItem> checklist_items();

/// Each item answered once. What is called shown has been found in `drawn`.
std::vector<ChecklistAnswer> checklist(const PermitFacts& facts,
                                       const std::vector<DrawnGroup>& drawn);

/// As a list for people, what is missing first.
std::string checklist_text(const std::vector<ChecklistAnswer>& answers, std::string_view site_name);

/// As one JSON object.
std::string checklist_json(const std::vector<ChecklistAnswer>& answers);

}  // namespace linewright::documents
