// Tables as another program reads them from a sheet's CSV (RFC 4180, lines ended by a line feed).
#pragma once

#include <map>
#include <string>
#include <vector>

#include "compiler/emit/sheet.hpp"

namespace tallow::test {

// Each row by the headings.
using CsvRow = std::map<std::string, std::string>;
std::vector<CsvRow> read_csv(const std::string& text);

// The CSV of one of a set's tables, read; fails where there is none.
std::vector<CsvRow> csv_table(const emit::SheetSet& set, const std::string& id);

// The columns that are named by a channel's number, where they are not empty.
std::map<int, double> csv_levels(const CsvRow& row);

}  // namespace tallow::test
