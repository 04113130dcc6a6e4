#include "runtime/control/face.hpp"
#include "runtime/control/keys.hpp"
#include "runtime/control/screen.hpp"
#include "runtime/control/terminal.hpp"

namespace tallow::runtime {
namespace {

constexpr std::size_t notices_kept = 50;

class ScreenFace : public Face {
  public:
    Status enter(int descriptor) { return terminal_.enter(descriptor); }

    int descriptor() const override { return terminal_.descriptor(); }
    bool read(std::uint64_t ns, Listener& listener) override;
    void say(std::string_view line) override {
        if (notices_.size() == notices_kept) notices_.erase(notices_.begin());
        notices_.emplace_back(line);
    }
    void show(const View& view) override;
    bool shows_levels() const override { return true; }

  private:
    Terminal terminal_;
    Keys keys_;
    View view_;  // as shown last
    std::vector<std::string> notices_;
};

bool ScreenFace::read(std::uint64_t ns, Listener& listener) {
    std::string bytes;
    if (terminal_.descriptor() >= 0) terminal_.read(bytes);
    bool ends = false;
    for (const Pressed& pressed : keys_.take(bytes, ns, view_)) {
        if (pressed.what == Pressed::What::command) listener.words(ns, "", pressed.text);
        if (pressed.what == Pressed::What::notice) say(pressed.text);
        if (pressed.what == Pressed::What::anew) terminal_.anew();
        if (pressed.what == Pressed::What::quit) ends = true;
    }
    return ends;
}

void ScreenFace::show(const View& view) {
    view_ = view;
    view_.notices = notices_;
    keys_.show(view_);
    if (terminal_.descriptor() < 0) return;
    const Terminal::Size size = terminal_.size();
    terminal_.show(draw(view_, size.columns, size.rows));
}

}  // namespace

Result<std::unique_ptr<Face>> screen_face(int terminal) {
    auto face = std::make_unique<ScreenFace>();
    if (auto s = face->enter(terminal); !s.ok()) return s;
    return Result<std::unique_ptr<Face>>(std::move(face));
}

}  // namespace tallow::runtime
