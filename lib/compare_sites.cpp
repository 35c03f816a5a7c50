#include "compare_sites.hpp"

#include "documents/changes.hpp"

namespace linewright {

Result<Compared> compare_sites(const VersionGiven& before, const VersionGiven& after,
                               CompareFormat format) {
  if (!before.checked.site || !after.checked.site)
    return fail("nothing to compare: a file has mistakes");
  const documents::Changes changes = documents::changes_between(
      {*before.checked.site, site::designations_in(before.yaml)}, before.checked.report,
      {*after.checked.site, site::designations_in(after.yaml)}, after.checked.report);
  return Compared{.text = format == CompareFormat::json ? documents::changes_json(changes)
                                                        : documents::changes_text(changes),
                  .same = changes.changes.empty()};
}

}  // namespace linewright
