// `tallow format` on files, links, streams and what it cannot read.
#include <catch2/catch.hpp>
#include <filesystem>
#include <sys/stat.h>

#include "runtime/files.hpp"
#include "tests/support/command.hpp"
#include "tests/support/made_frames.hpp"

using namespace tallow;
using test::quoted;
namespace fs = std::filesystem;

namespace {

const std::string rough = "cue 1 \"Tea\" fade 3s\n front 50%\n";
const std::string plain = "cue 1 \"Tea\"  fade 3s\n    front     50%\n";

struct Folder {
    std::string path = test::scratch("format-command");
    Folder() {
        fs::remove_all(path);
        fs::create_directories(path);
    }
    ~Folder() { fs::remove_all(path); }
    void write(const std::string& name, const std::string& text) const {
        REQUIRE(runtime::write_file(path + "/" + name, text).ok());
    }
    std::string text(const std::string& name) const {
        const auto bytes = runtime::read_file(path + "/" + name, 1 << 20);
        REQUIRE(bytes.ok());
        return *bytes;
    }
    test::Ran run(const std::string& arguments, const std::string& before = "") const {
        return test::run("cd " + quoted(path) + " && " + before + quoted(TALLOW_COMMAND) + " format " +
                         arguments);
    }
};

}  // namespace

TEST_CASE("format rewrites the files that are not plain, and names them", "[unit][format]") {
    const Folder folder;
    folder.write("a.tallow", rough);
    folder.write("b.tallow", plain);
    const auto untouched = fs::last_write_time(folder.path + "/b.tallow");
    auto ran = folder.run("a.tallow b.tallow");
    CHECK(ran.code == 0);
    CHECK(ran.out == "a.tallow\n");
    CHECK(folder.text("a.tallow") == plain);
    CHECK(fs::last_write_time(folder.path + "/b.tallow") == untouched);
    ran = folder.run("a.tallow b.tallow");
    CHECK(ran.code == 0);
    CHECK(ran.out.empty());
}

TEST_CASE("format --check names the files that would change, and changes none", "[unit][format]") {
    const Folder folder;
    folder.write("a.tallow", rough);
    folder.write("b.tallow", plain);
    const auto ran = folder.run("--check b.tallow a.tallow");
    CHECK(ran.code == 1);
    CHECK(ran.out == "a.tallow\n");
    CHECK(folder.text("a.tallow") == rough);
    CHECK(folder.run("--check b.tallow").code == 0);
}

TEST_CASE("format keeps permissions and links", "[unit][format]") {
    const Folder folder;
    folder.write("a.tallow", rough);
    REQUIRE(::chmod((folder.path + "/a.tallow").c_str(), 0640) == 0);
    fs::create_symlink("a.tallow", folder.path + "/link.tallow");
    CHECK(folder.run("link.tallow").code == 0);
    CHECK(fs::is_symlink(folder.path + "/link.tallow"));
    CHECK(folder.text("a.tallow") == plain);
    CHECK(static_cast<unsigned>(fs::status(folder.path + "/a.tallow").permissions()) == 0640u);
}

TEST_CASE("format passes standard input on to standard output", "[unit][format]") {
    const Folder folder;
    folder.write("a.tallow", rough);
    folder.write("b.tallow", plain);
    CHECK(folder.run("-", "cat a.tallow | ").out == plain);
    CHECK(folder.run("-", "cat b.tallow | ").out == plain);
    const auto checked = folder.run("--check -", "cat a.tallow | ");
    CHECK(checked.code == 1);
    CHECK(checked.out == "-\n");
}

TEST_CASE("a file that format cannot read stops no other", "[unit][format]") {
    const Folder folder;
    const std::string latin = "cue 1\n  # caf\xe9\n";
    folder.write("latin.tallow", latin);
    folder.write("a.tallow", rough);
    auto ran = folder.run("latin.tallow a.tallow");
    CHECK(ran.code == 1);
    CHECK(ran.out ==
          "tallow: cannot format `latin.tallow`: its byte 13, in line 2, is not valid UTF-8; it was left as "
          "it is; save it as UTF-8 in your editor\na.tallow\n");
    CHECK(folder.text("latin.tallow") == latin);
    folder.write("a.tallow", rough);
    ran = folder.run("none.tallow latin.tallow a.tallow");
    CHECK(ran.code == 2);
    CHECK(ran.out.find("tallow: cannot open `none.tallow`: No such file or directory") != std::string::npos);
    CHECK(folder.text("a.tallow") == plain);
}
