#include "compiler/emit/pdf.hpp"

#include <cairo-pdf.h>
#include <fmt/format.h>
#include <map>
#include <memory>
#include <pango/pangocairo.h>
#include <tuple>

#include "compiler/emit/place.hpp"

namespace tallow::emit {
namespace {

constexpr double quarter_turn = 1.5707963267948966;

// PDF's unit is 1/72 inch.
double points(Length length) {
    return length * 72 / 2540.0;
}

template <auto release>
struct Releaser {
    template <class T>
    void operator()(T* t) const {
        release(t);
    }
};
using Surface = std::unique_ptr<cairo_surface_t, Releaser<cairo_surface_destroy>>;
using Pen = std::unique_ptr<cairo_t, Releaser<cairo_destroy>>;
using FontMap = std::unique_ptr<PangoFontMap, Releaser<g_object_unref>>;
using Context = std::unique_ptr<PangoContext, Releaser<g_object_unref>>;
using Layout = std::unique_ptr<PangoLayout, Releaser<g_object_unref>>;
using Font = std::unique_ptr<PangoFontDescription, Releaser<pango_font_description_free>>;
using FontOptions = std::unique_ptr<cairo_font_options_t, Releaser<cairo_font_options_destroy>>;

cairo_status_t append(void* to, const unsigned char* bytes, unsigned int count) {
    static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(bytes), count);
    return CAIRO_STATUS_SUCCESS;
}

class Writer {
  public:
    Writer(const SheetSet& set, const Document& document)
        : set_(set),
          document_(document),
          surface_(cairo_pdf_surface_create_for_stream(append, &bytes_, points(document.paper.width),
                                                       points(document.paper.height))),
          pen_(cairo_create(surface_.get())),
          fonts_(pango_cairo_font_map_new()),
          context_(pango_font_map_create_context(fonts_.get())) {
        const FontOptions options(cairo_font_options_create());
        cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
        cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
        pango_cairo_context_set_font_options(context_.get(), options.get());
    }

    runtime::Result<Pdf> run() {
        cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_TITLE, document_.title.c_str());
        cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_CREATE_DATE, "");
        for (std::size_t p = 0; p < document_.pages.size(); ++p) {
            const Page& page = document_.pages[p];
            if (page.number == 1)
                cairo_pdf_surface_add_outline(surface_.get(), CAIRO_PDF_OUTLINE_ROOT,
                                              set_.sheets[page.sheet].title.c_str(),
                                              fmt::format("page={}", p + 1).c_str(), {});
            draw(placed(page));
            cairo_show_page(pen_.get());
        }
        layouts_.clear();
        pen_.reset();
        cairo_surface_finish(surface_.get());
        const cairo_status_t status = cairo_surface_status(surface_.get());
        if (status != CAIRO_STATUS_SUCCESS)
            return runtime::Status::failure(
                fmt::format("cannot make the PDF: {}; try `--only html`", cairo_status_to_string(status)));
        return Pdf{std::move(bytes_), std::move(lacking_)};
    }

  private:
    void draw(const Placed& page) {
        cairo_t* pen = pen_.get();
        for (const Bar& b : page.bars)
            cairo_rectangle(pen, points(b.x), points(b.y), points(b.width), points(b.height));
        cairo_fill(pen);
        for (const Run& run : page.runs) draw(run);
    }

    void draw(const Run& run) {
        PangoLayout* layout = layout_of(run);
        PangoRectangle logical;
        pango_layout_get_extents(layout, nullptr, &logical);
        const double have = static_cast<double>(logical.width) / PANGO_SCALE;
        const double room = points(run.turned ? run.height : run.width);
        const double narrow = have > room ? room / have : 1;
        const double spare = room - have * narrow;
        const double along = run.align == Align::left ? 0 : run.align == Align::centre ? spare / 2 : spare;
        // The middle of the small letters of a common face stands in the middle of the line.
        const double down = points(run.turned ? run.width : run.height) * 0.76;
        cairo_t* pen = pen_.get();
        cairo_save(pen);
        if (run.turned) {
            cairo_translate(pen, points(run.x) + down, points(run.y + run.height) - along);
            cairo_rotate(pen, -quarter_turn);
        } else {
            cairo_translate(pen, points(run.x) + along, points(run.y) + down);
        }
        cairo_scale(pen, narrow, 1);
        cairo_move_to(pen, -static_cast<double>(logical.x) / PANGO_SCALE, 0);
        pango_cairo_show_layout_line(pen, pango_layout_get_line_readonly(layout, 0));
        cairo_restore(pen);
    }

    // Numbers and levels come again and again.
    PangoLayout* layout_of(const Run& run) {
        Layout& layout = layouts_[{run.text, run.style.points, run.style.bold}];
        if (layout) return layout.get();
        layout.reset(pango_layout_new(context_.get()));
        const Font font(pango_font_description_new());
        pango_font_description_set_family_static(font.get(), "sans-serif");
        pango_font_description_set_weight(font.get(),
                                          run.style.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
        pango_font_description_set_absolute_size(font.get(), run.style.points * PANGO_SCALE);
        pango_layout_set_font_description(layout.get(), font.get());
        pango_layout_set_single_paragraph_mode(layout.get(), TRUE);
        pango_layout_set_text(layout.get(), run.text.data(), static_cast<int>(run.text.size()));
        if (pango_layout_get_unknown_glyphs_count(layout.get()) > 0) lacking_.push_back(run.text);
        return layout.get();
    }

    const SheetSet& set_;
    const Document& document_;
    std::string bytes_;
    std::vector<std::string> lacking_;
    Surface surface_;
    Pen pen_;
    FontMap fonts_;
    Context context_;
    std::map<std::tuple<std::string, std::uint8_t, bool>, Layout> layouts_;
};

}  // namespace

runtime::Result<Pdf> pdf(const SheetSet& set, const Document& document) {
    return Writer(set, document).run();
}

}  // namespace tallow::emit
