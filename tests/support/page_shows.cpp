#include "tests/support/page_shows.hpp"

#include <fmt/format.h>

namespace tallow::test {
namespace {

constexpr const char* scripts = R"(show "Ο Χειμώνας <b>\"quoted\"</b> & ελαφρύ	tab"  tallow 1
    by "مسرح القارب"
patch 1/1
    προβολέας 1..3  par-rgb
    лампа-над-столом 1..2 dimmer
    光 1..2 dimmer
    a-very-long-name-of-a-fixture-that-nobody-would-write-but-somebody-will-all-the-same dimmer
cue 1 "ליל חורף בחוף <script>alert(1)</script>"
    on "هدوء البحر"
    προβολέας #ff8800 50%
    光 40%
cue 2 "漢字の長いラベルはどこで改行されるのでしょうかと思いますがまだまだ続きますよここで終わりません" follow 2s
    note "स्वागत है ไทย 한국어 'single' \"double\" & amp"
    лампа-над-столом full
cue 3 "AVeryLongLabelWithoutAnyBlankInItThatGoesOnAndOnAndOnAndOnAndOnAndOnAndOnAndOnAndOnAndOnAndOnAndOn"
    all out
desk d "Пульт \"у чая\" <x>"
    layout pair  48 channels  2 scenes  12 submasters  rows 2
)";

std::string long_texts() {
    std::string words;
    for (int i = 0; i < 2000; ++i) words += fmt::format("word{} ", i);
    return fmt::format(R"(show "{0}"  tallow 1
patch 1/1
    lamp 1..3  dimmer
cue 1 "{0}"
    on    "{0}"
    note  "{1}"
    lamp  50%
cue 2 "b"
    lamp  out
desk d "{0}"
    layout pair  3 channels  2 scenes
)",
                       words, std::string(5000, 'x'));
}

}  // namespace

std::string plain_show(std::size_t cues, std::size_t channels, const std::string& layout) {
    std::string text = fmt::format("show \"Big\" tallow 1\npatch 1/1\n    lamp 1..{} dimmer\n", channels);
    for (std::size_t c = 1; c <= cues; ++c) {
        text +=
            fmt::format("cue {0} \"Cue number {0} of the show\"  up {1}s  down 3s\n    on \"the line {0}\"\n",
                        c, c % 7 + 1);
        for (std::size_t k = 1; k <= channels; ++k)
            if ((k * 7 + c * 13) % 5 < 2)
                text += fmt::format("    lamp {}  {}%\n", k, (k * 11 + c * 17) % 101);
    }
    return text + "desk d\n    layout pair  " + layout + "\n";
}

const std::vector<PageShow>& page_shows() {
    static const std::vector<PageShow> all = {
        {"plain", plain_show(12, 48, "48 channels  2 scenes  rows 2")},
        {"wide", plain_show(3, 512, "512 channels  2 scenes\n    notch 2.5%")},
        {"one",
         "show \"One\" tallow 1\npatch 1/1\n    lamp dimmer\ncue 1\n    lamp 50%\ndesk d\n    layout pair  1 "
         "channel "
         " 2 scenes\n"},
        {"scripts", scripts},
        {"long", long_texts()},
    };
    return all;
}

}  // namespace tallow::test
