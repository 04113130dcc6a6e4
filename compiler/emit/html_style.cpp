#include "compiler/emit/html_style.hpp"

#include <fmt/format.h>

#include "compiler/emit/blocks.hpp"
#include "compiler/text/decimal.hpp"

namespace tallow::emit {
namespace {

constexpr const char* everywhere = R"(:root { color-scheme: light dark; }
* { box-sizing: border-box; }
body { margin: 0; font-family: sans-serif; line-height: 1.3; overflow-wrap: break-word; }
h1, h2, h3, p { margin: 0; }
h2 { font-size: 18pt; }
h3 { font-size: 13pt; }
.ends { display: flex; justify-content: space-between; gap: 0 3mm; }
.ends > :first-child { min-width: 0; overflow-wrap: anywhere; }
.ends > p:last-child { flex: none; max-width: 50%; text-align: right; }
.firm { font-weight: bold; }
hr { border: 0; color: inherit; height: 0.6mm; margin: 0; background: currentColor; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
table { border-collapse: collapse; }
th, td { text-align: left; vertical-align: top; font-weight: normal; }
thead th { font-weight: bold; border-bottom: 0.4mm solid; }
tbody th, tbody td { border-bottom: 0.15mm solid; }
.number { text-align: right; font-variant-numeric: tabular-nums; }
.faders th, .faders td, .strip th, .strip td { text-align: center; vertical-align: middle; }
.faders th { font-weight: normal; border: 0; }
.faders td, .strip th, .strip td { border: 0.15mm solid; }
.faders td.move { font-weight: bold; border-top: 0.6mm solid; border-bottom: 0.6mm solid; }
.strip th { font-size: 14pt; }
.strip.narrow th { font-size: 11pt; }
.turned { display: inline-block; writing-mode: vertical-rl; transform: rotate(180deg); height: var(--h); text-align: center; }
caption { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
svg { display: block; fill: currentColor; }
)";

constexpr const char* on_screen = R"(@media screen {
body { background: #fbfaf7; color: #16150f; }
nav, .page { max-width: 60rem; margin: 0 auto; padding: 0.75rem 1rem; }
nav ul { padding-left: 1.2rem; margin: 0.5rem 0; }
a { color: inherit; }
a:focus-visible, .wide:focus-visible { outline: 3px solid; outline-offset: 2px; }
.page { padding-top: 0; }
.first { margin-top: 1.5rem; padding-top: 0.75rem; border-top: 0.4rem solid; }
.more > header, .on > footer { display: none; }
header, footer { display: grid; gap: 0.25rem; }
footer { margin-top: 1.5rem; }
.content > * { margin-top: 0.6rem; }
.content > .card { margin-top: 2rem; border-top: 1px solid; padding-top: 0.4rem; }
.ends { flex-wrap: wrap; }
.wide { overflow-x: auto; }
th, td { padding: 0.25rem 0.5rem; min-width: 2.6rem; }
.words { min-width: 9rem; }
.faders th, .faders td { padding: 0.1rem 0.15rem; min-width: 2.4rem; }
.faders td { height: 1.9rem; }
.strip { table-layout: fixed; }
.strip col { width: var(--c); }
.strip th, .strip td { padding: 0.3mm 0.6mm; min-width: 0; }
}
@media screen and (max-width: 45rem) {
.ends { flex-direction: column; }
.ends > :first-child { min-width: 0; overflow-wrap: anywhere; }
.ends > p:last-child { max-width: none; text-align: left; }
.tall, .tall tbody, .tall tr, .tall th, .tall td { display: block; }
.tall thead { display: none; }
.tall tr { border-bottom: 0.15mm solid; padding: 0.4rem 0; }
.tall th, .tall td { border: 0; padding: 0.1rem 0; text-align: left; }
.tall th { font-weight: bold; }
.tall :empty { display: none; }
.tall [data-of]::before { content: attr(data-of) ": "; font-style: italic; }
}
@media screen and (prefers-color-scheme: dark) {
body { background: #16150f; color: #f1eee4; }
}
)";

constexpr const char* on_paper = R"(nav { display: none; }
body { background: #fff; color: #000; font-size: 11pt; }
.page { position: relative; overflow: hidden; break-after: page; }
.page:last-child { break-after: auto; }
.page header > *, .page .content > *, .page footer > * { position: absolute; left: var(--x); top: var(--y); width: var(--w); }
table { table-layout: fixed; width: var(--w); }
col { width: var(--c); }
tr { height: var(--h); }
.strip td { height: var(--h); }
.cut::before, .cut::after { content: ""; position: absolute; border: 0 solid; }
.cut::before { inset: -3.6mm 0; border-width: 0 0.12mm; }
.cut::after { inset: 0 -3.6mm; border-width: 0.12mm 0; }
)";

}  // namespace

std::string millimetres(Length length) {
    return text::decimal(std::int64_t{length} * 10'000) + "mm";
}

std::string html_style(const Paper& paper) {
    // A hair less than the paper: a page that is as high as the paper may spill onto a second one.
    const std::string size = fmt::format(".page {{ width: {}; height: {}; }}\n", millimetres(paper.width),
                                         millimetres(paper.height - 20));
    // What the lines below the cells take is taken from their padding.
    const std::string padding = fmt::format(
        "th, td {{ padding: {0} {1} calc({0} - 0.2mm); }}\nthead th {{ padding-bottom: 0; }}\n"
        ".faders th, .faders td {{ padding: 0; }}\n.strip th, .strip td {{ padding: 0 {2}; }}\n",
        millimetres(row_padding), millimetres(table_padding), millimetres(label_padding));
    std::string lines;
    for (const int points : {11, 13, 14, 18})
        lines += fmt::format(".l{} {{ line-height: {}; }}\n", points,
                             millimetres(line_height({static_cast<std::uint8_t>(points), false})));
    return fmt::format("{}{}@page {{ size: {}; margin: 0; }}\n@media print {{\n{}{}{}{}}}\n", everywhere,
                       on_screen, paper.name, on_paper, size, padding, lines);
}

}  // namespace tallow::emit
