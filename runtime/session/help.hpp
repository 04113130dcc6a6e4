// The help of a program, for a terminal of 80 columns.
#pragma once

#include <memory>
#include <string>

namespace CLI {
class FormatterBase;
class Option;
}  // namespace CLI

namespace tallow::runtime {

// To be given to an app before its commands are added, which take it over.
std::shared_ptr<CLI::FormatterBase> narrow_help();

// What is written behind an option, with a blank before it: " HOST", or " VALUE" where nothing better was
// said; empty for a flag and for an argument.
std::string value_name(const CLI::Option& option);

}  // namespace tallow::runtime
