// Where everything listens: the hookup of channels and slots, and the addresses with their switches.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "compiler/emit/sheet.hpp"
#include "compiler/show/show.hpp"

namespace tallow::desk {

// The switches of a row of binary address switches that are on for a start address of 1..511: those of 1, 2,
// 4 … 256 that add up to it (common practice, no source). 512 needs a tenth one.
std::vector<std::uint16_t> switches_of(std::uint16_t address);
// `4 8`.
std::string switches_text(std::uint16_t address);

// Columns `channel` (empty: on none), `slot` (`1/31`), `fixture` (all bodies of a gang) and `part`: a row for
// each slot of each fixture, by slot.
emit::Table hookup_table(const show::Show& show, const show::Desk& desk);

// Columns `fixture`, `type`, `mode`, `universe`, `address`, `switches` and `channels` (`7-12`; empty: on
// none): a row for each body, by address.
emit::Table address_table(const show::Show& show, const show::Desk& desk);

// Both, with what has to be said of them: the sheet `addresses`.
emit::Sheet address_sheet(const show::Show& show, const show::Desk& desk);

}  // namespace tallow::desk
