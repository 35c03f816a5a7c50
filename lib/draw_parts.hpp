// The drawing of a site before it is written to any file.
#pragma once

#include <string>
#include <vector>

#include "check/analysed_site.hpp"
#include "diagram/sheet.hpp"
#include "linewright.hpp"

namespace linewright {

/// What the options ask for; a size alone stands as it usually does.
site::PaperFormat paper_for(const site::PaperFormat& own, const DrawOptions& options);

/// All sheets of a site on its own paper; what could not be drawn as written is added to the
/// notices.
diagram::Document document_of(const site::Site& site, const Report& report,
                              const check::AnalysedSite& analysed, const DrawOptions& options,
                              std::vector<std::string>& notices);

}  // namespace linewright
