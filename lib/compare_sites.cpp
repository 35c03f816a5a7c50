#include "compare_sites.hpp"

#include <algorithm>

#include "diagram/change_sheets.hpp"
#include "documents/changes.hpp"
#include "draw_document.hpp"
#include "draw_parts.hpp"
#include "drawing/metrics.hpp"
#include "rules/profile_data.hpp"

namespace linewright {
namespace {

documents::Changes changes_of(const VersionGiven& before, const VersionGiven& after) {
  return documents::changes_between(
      {*before.checked.site, site::designations_in(before.yaml)}, before.checked.report,
      {*after.checked.site, site::designations_in(after.yaml)}, after.checked.report);
}

std::vector<diagram::ChangeMark> marks_of(const documents::Changes& changes) {
  std::vector<diagram::ChangeMark> marks;
  for (const site::Change& change : changes.changes)
    marks.push_back({change.drawn_as, documents::change_words(change)});
  return marks;
}

constexpr const char* remark =
    "What has a dash is not drawn on these sheets, or is gone. Compare tells what the files say, "
    "not whether the new version is safe: check it.";

}  // namespace

Result<Compared> compare_sites(const VersionGiven& before, const VersionGiven& after,
                               CompareFormat format) {
  if (!before.checked.site || !after.checked.site)
    return fail("nothing to compare: a file has mistakes");
  const documents::Changes changes = changes_of(before, after);
  return Compared{.text = format == CompareFormat::json ? documents::changes_json(changes)
                                                        : documents::changes_text(changes),
                  .same = changes.changes.empty()};
}

Result<Drawn> draw_changes(const VersionGiven& before, const VersionGiven& after,
                           const DrawOptions& options) {
  if (!before.checked.site || !after.checked.site)
    return fail("nothing to draw: a file has mistakes");
  const std::vector<diagram::ChangeMark> marks = marks_of(changes_of(before, after));
  if (marks.empty()) return fail("nothing to draw: the files say the same");
  site::Site site = *after.checked.site;
  site.title.paper = paper_for(site.title.paper, options);
  const Result<check::Profile> profile = rules::profile_for(site, options.profile);
  if (!profile) return fail(profile.error().message);
  std::vector<std::string> notices;
  const diagram::Document drawing =
      document_of(site, after.checked.report, check::analyse(site, *profile), options, notices);
  diagram::Document changed = diagram::change_sheets(
      site, drawing::metrics(options.material.symbols, options.material.fonts), drawing, marks,
      std::string(profile->text("rules title")), remark);
  if (changed.date.empty()) changed.date = options.date;
  Result<Drawn> drawn = draw_document(changed, options);
  if (drawn) drawn->notices.insert(drawn->notices.begin(), notices.begin(), notices.end());
  return drawn;
}

}  // namespace linewright
