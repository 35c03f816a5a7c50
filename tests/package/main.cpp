// Uses the installed library: reads a quantity and prints a report.

#include <iostream>

#include <findings/text.hpp>
#include <units/print.hpp>
#include <units/read.hpp>

int main() {
  const auto current = linewright::read_quantity<linewright::Current>("0.03 A");
  if (!current || linewright::print(*current) != "30 mA") return 1;
  linewright::Report report;
  report.file = "site.yaml";
  std::cout << linewright::findings::report_text(report, "", {});
  return 0;
}
