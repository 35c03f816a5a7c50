// Uses the installed library as another program would: reads the site file named, checks it, and
// says how many findings and open points there are.

#include <fstream>
#include <iostream>
#include <iterator>
#include <string>

#include <findings/text.hpp>
#include <linewright.hpp>

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  std::ifstream file(argv[1]);
  const std::string yaml((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
  const linewright::Checked checked = linewright::check_site(yaml, argv[1]);
  if (!checked.site) {
    std::cerr << linewright::findings::mistakes_text(argv[1], checked.mistakes, yaml, {});
    return 1;
  }
  const linewright::Report& report = checked.report;
  std::cout << linewright::findings::report_text(report, yaml, {});
  // Rules came along in the library, and a sound sample has neither danger nor breach.
  if (report.counts.rules < 40 || report.counts.hold == 0) return 1;
  for (const linewright::Finding& finding : report.findings) {
    if (finding.severity != linewright::Severity::advice) return 1;
  }
  return 0;
}
