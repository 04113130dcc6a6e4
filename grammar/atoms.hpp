// How a file is cut into lines and atoms: the lexical rules, for PEGTL. Included by one source file.
//
// A line is blanks, atoms and perhaps a comment. The rules take any valid UTF-8: what is no atom of the
// language becomes an `other` atom, so the cut never fails, and an error stays in its line. What the atoms of
// a line mean is read by the compiler, from left to right.
#pragma once

#include <tao/pegtl.hpp>
#include <tao/pegtl/contrib/analyze.hpp>

namespace tallow::grammar {

namespace p = tao::pegtl;
namespace u = tao::pegtl::utf8;

// Typing aids of word processors, accepted as the plain sign that they stand for.
struct hard_space : u::one<0x00a0, 0x2007, 0x202f, 0x3000> {};
struct long_dash : u::one<0x2010, 0x2011, 0x2012, 0x2013, 0x2014, 0x2015, 0x2212> {};
struct curly_quote : u::one<0x201c, 0x201d, 0x201e, 0x201f, 0x00ab, 0x00bb> {};
struct ellipsis : u::one<0x2026> {};
struct times_sign : u::one<0x00d7> {};

struct blank : p::sor<p::one<' ', '\t'>, hard_space> {};
struct line_end : p::sor<p::one<'\n'>, p::seq<p::one<'\r'>, p::at<p::sor<p::one<'\n'>, p::eof>>>> {};
struct not_line_end : p::seq<p::not_at<line_end>, p::any> {};

// Any sign outside ASCII that has no meaning of its own may stand in a name; which of them are letters is
// checked where a name is declared.
struct beyond_ascii : p::seq<p::at<p::not_range<'\0', '\x7f'>>,
                             p::not_at<p::sor<hard_space, long_dash, curly_quote, ellipsis, times_sign>>,
                             u::range<0x80, 0x10ffff>> {};
struct name_start : p::sor<p::alpha, beyond_ascii> {};
struct name_part : p::sor<p::alnum, p::one<'-', '_'>, beyond_ascii,
                          p::seq<long_dash, p::at<p::sor<p::alnum, beyond_ascii>>>> {};
struct name : p::seq<name_start, p::star<name_part>> {};
struct digits : p::plus<p::digit> {};
// A second part: pan.fine. One of digits is a mistake that is met as one atom: cue2.5.
struct word : p::seq<name, p::opt<p::one<'.'>, p::sor<name, digits>>> {};

// A number, with the unit behind it even after a blank. Two other shapes begin like one: a clock time
// (01:30:35:20), and a comma where the point should be, which is an error wherever a unit follows: `2,5s`.
struct minus : p::sor<p::one<'-'>, long_dash> {};
struct letter_unit
    : p::seq<p::sor<TAO_PEGTL_STRING("ms"), TAO_PEGTL_STRING("min"), TAO_PEGTL_STRING("Hz"),
                    TAO_PEGTL_STRING("deg"), TAO_PEGTL_STRING("lm"), p::one<'s', 'K', 'm', 'W', 'A', 'V'>>,
             p::not_at<name_part>> {};
struct spaced_unit : p::seq<p::plus<blank>, p::sor<p::one<'%'>, letter_unit>> {};
struct close_unit : p::sor<p::one<'%'>, p::seq<p::alpha, p::star<name_part>>> {};
struct clock_tail : p::plus<p::one<':', ';'>, digits> {};
struct comma_tail : p::seq<p::one<','>, digits, p::sor<close_unit, spaced_unit>> {};
struct number_tail : p::seq<p::opt<p::one<'.'>, digits>, p::opt<p::sor<close_unit, spaced_unit>>> {};
struct number : p::seq<p::opt<minus>, digits, p::sor<clock_tail, comma_tail, number_tail>> {};

struct hex_colour : p::seq<p::one<'#'>, p::rep<6, p::xdigit>, p::not_at<name_part>> {};
struct joined_hash : p::seq<p::one<'#'>, p::at<p::sor<p::alnum, beyond_ascii>>, p::star<not_line_end>> {
};  // `#note`
struct comment : p::seq<p::one<'#'>, p::star<not_line_end>> {};

struct quote : p::sor<p::one<'"'>, curly_quote> {};
struct string_part : p::sor<p::seq<p::one<'\\'>, not_line_end>, p::seq<p::not_at<quote>, not_line_end>> {};
struct string : p::seq<quote, p::star<string_part>, quote> {};
struct open_string : p::seq<quote, p::star<string_part>> {};  // its closing quote is missing

struct dots : p::sor<TAO_PEGTL_STRING(".."), ellipsis> {};
struct comma : p::one<','> {};
struct slash : p::one<'/'> {};
struct dash : minus {};
struct open_bracket : p::one<'('> {};
struct close_bracket : p::one<')'> {};
struct times : times_sign {};
struct other : p::seq<p::not_at<line_end>, u::any> {};

struct atom : p::sor<word, number, comma, dots, hex_colour, joined_hash, string, open_string, slash, dash,
                     open_bracket, close_bracket, times, other> {};
struct blanks : p::star<blank> {};
struct indent : p::plus<blank> {};
struct line_start : p::success {};
struct atoms
    : p::star<p::not_at<p::sor<line_end, p::seq<p::one<'#'>, p::not_at<p::sor<p::alnum, beyond_ascii>>>>>,
              atom, blanks> {};
struct line : p::seq<line_start, p::opt<indent>, atoms, p::opt<comment>> {};
struct byte_order_mark : u::bom {};
struct file : p::seq<p::opt<byte_order_mark>, line, p::star<p::seq<p::opt<p::one<'\r'>>, p::one<'\n'>>, line>,
                     p::opt<p::one<'\r'>>, p::eof> {};

}  // namespace tallow::grammar
