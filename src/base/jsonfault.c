/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words for what is wrong with a JSON text. */
#include <stdio.h>
#include <string.h>

#include "base/jsonscan.h"

enum { EXCERPT_CHARACTERS = 24, EXCERPT_BYTES = 4 * EXCERPT_CHARACTERS + 8, WORD_BYTES = 32 };

typedef struct {
	const char *what, *allowed, *mend;
} words;

static int byte_at(const rig_json_scanner *scanner, size_t at)
{
	return at < scanner->length ? (unsigned char)scanner->text[at] : -1;
}

static bool is_digit(int byte)
{
	return byte >= '0' && byte <= '9';
}

static bool is_letter(int byte)
{
	return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') || byte == '_';
}

static bool is_one_of(int byte, const char *set)
{
	return byte > 0 && strchr(set, byte) != NULL;
}

/* The code point of the well-formed character of that length. */
static uint32_t code_point(const rig_json_scanner *scanner, size_t at, size_t length)
{
	static const uint32_t FIRST_BITS[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
	uint32_t code = (unsigned char)scanner->text[at] & FIRST_BITS[length];
	for (size_t i = 1; i < length; i++)
		code = code << 6 | ((unsigned char)scanner->text[at + i] & 0x3F);
	return code;
}

/* Characters that look like something else or like nothing. */
static const struct {
	uint32_t from, to;
	words words;
} ODD[] = {
	{0x00, 0x00, {"a NUL byte stands in the text", "", "save the file as plain UTF-8 text"}},
	{0x01, 0x1F, {"a control character stands in the text", "", "delete it"}},
	{0x7F, 0x9F, {"a control character stands in the text", "", "delete it"}},
	{0xA0, 0xA0,
		{"a space of a special kind stands here", "space, tab or line break",
			"put an ordinary space there"}},
	{0x2000, 0x200F, {"an invisible character stands here", "", "delete it"}},
	{0x2018, 0x201F,
		{"curly quotes stand here", "straight double quotes \"",
			"replace them by straight double quotes \""}},
	{0x2028, 0x202F, {"an invisible character stands here", "", "delete it"}},
	{0x2060, 0x2069, {"an invisible character stands here", "", "delete it"}},
	{0xFEFF, 0xFEFF, {"a byte order mark stands inside the text", "", "delete it"}},
};
enum { N_ODD = sizeof ODD / sizeof ODD[0] };

static const words *odd_words(uint32_t code)
{
	for (int i = 0; i < N_ODD; i++) {
		if (code >= ODD[i].from && code <= ODD[i].to)
			return &ODD[i].words;
	}
	return NULL;
}

/* Length of the character at `at` if it can be shown as it is, else 0. */
static size_t shown_length(const rig_json_scanner *scanner, size_t at)
{
	const size_t length = at < scanner->length ? rig_json_character(scanner, at) : 0;
	return length > 0 && odd_words(code_point(scanner, at, length)) == NULL ? length : 0;
}

/* Whether what is shown ends after n bytes, before the byte next. */
static bool ends_excerpt(const char *shown, size_t n, int next)
{
	const char first = shown[0];
	if (is_one_of(first, ",:;=[]{}"))
		return true;
	if (first == '"' || first == '\'')
		return n > 1 && shown[n - 1] == first;
	return is_one_of(next, " ,:;[]{}\"'");
}

/* What stands at `at`, short and printable. */
static const char *excerpt(const rig_json_scanner *scanner, size_t at, char room[EXCERPT_BYTES])
{
	if (at >= scanner->length)
		return "the end of the text";
	const size_t length = rig_json_character(scanner, at);
	if (length == 0) {
		snprintf(room, EXCERPT_BYTES, "the byte 0x%02X", (unsigned)byte_at(scanner, at));
		return room;
	}
	size_t n = 0;
	for (int i = 0; i < EXCERPT_CHARACTERS; i++) {
		const size_t more = shown_length(scanner, at + n);
		if (more == 0 || (i > 0 && ends_excerpt(room, n, byte_at(scanner, at + n))))
			break;
		memcpy(room + n, scanner->text + at + n, more);
		n += more;
	}
	room[n] = '\0';
	if (n == 0)
		snprintf(room, EXCERPT_BYTES, "U+%04X", (unsigned)code_point(scanner, at, length));
	return room;
}

static rig_status fault(const rig_json_scanner *scanner, rig_json_mark mark, const words *said)
{
	char room[EXCERPT_BYTES];
	rig_diags_add(scanner->diags,
		&(rig_diag){RIG_FAULT, {mark.place.line, mark.place.column, ""}, said->what,
			excerpt(scanner, mark.at, room), said->allowed, said->mend});
	return RIG_BAD_INPUT;
}

static rig_status fault_here(const rig_json_scanner *scanner, const words *said)
{
	return fault(scanner, rig_json_here(scanner), said);
}

/* Two bytes of a mark, or a NUL among the first two, are how UTF-16 begins. */
static bool looks_like_utf16(const rig_json_scanner *scanner)
{
	const int a = byte_at(scanner, 0), b = byte_at(scanner, 1);
	return (a == 0xFF && b == 0xFE) || (a == 0xFE && b == 0xFF) || (a == 0) != (b == 0);
}

/* Words for a character that is wrong between values, whatever was expected; NULL if it is not. */
static const words *foreign(const rig_json_scanner *scanner)
{
	static const words UTF16 = {"the text is UTF-16", "UTF-8", "save the file as UTF-8"};
	static const words MALFORMED = {
		"the text is not well-formed UTF-8", "UTF-8", "save the file as UTF-8"};
	static const words COMMENT = {"a comment stands here", "JSON has no comments",
		"delete it; words for people can stand in \"notes\""};
	static const words SINGLE = {
		"text stands in single quotes", "double quotes \"", "put it in double quotes"};
	const size_t at = scanner->at;
	if (at <= 1 && scanner->length >= 2 && looks_like_utf16(scanner))
		return &UTF16;
	const size_t length = rig_json_character(scanner, at);
	if (length == 0)
		return &MALFORMED;
	const int byte = byte_at(scanner, at);
	if (byte == '#' || (byte == '/' && is_one_of(byte_at(scanner, at + 1), "/*")))
		return &COMMENT;
	if (byte == '\'')
		return &SINGLE;
	return odd_words(code_point(scanner, at, length));
}

/* The innermost open bracket, 0 at the top. */
static int inside(const rig_json_scanner *scanner)
{
	return scanner->depth > 0 ? scanner->open[scanner->depth - 1].bracket : 0;
}

/* A bracket that closes another kind than the innermost one. */
static rig_status mismatch(const rig_json_scanner *scanner)
{
	const bool object = inside(scanner) == '{';
	if (scanner->depth == 0)
		return fault_here(
			scanner, &(words){"a closing bracket has no opening one", "", "delete it"});
	char what[96];
	const rig_json_place open = scanner->open[scanner->depth - 1].mark.place;
	snprintf(what, sizeof what, "the %c of line %u, column %u is closed by another bracket",
		inside(scanner), (unsigned)open.line, (unsigned)open.column);
	return fault_here(scanner,
		&(words){what, object ? "}" : "]", object ? "close it with }" : "close it with ]"});
}

/* Takes the letters and digits at the scanner. */
static void take_word(const rig_json_scanner *scanner, char word[WORD_BYTES])
{
	size_t n = 0;
	for (size_t at = scanner->at; n + 1 < WORD_BYTES; at++) {
		const int byte = byte_at(scanner, at);
		if (!is_letter(byte) && !is_digit(byte) && byte != '-' && byte != '$')
			break;
		word[n++] = (char)byte;
	}
	word[n] = '\0';
}

static bool same_ignoring_case(const char *word, const char *lower)
{
	for (; *word != '\0' && *lower != '\0'; word++, lower++) {
		const int letter = *word >= 'A' && *word <= 'Z' ? *word - 'A' + 'a' : *word;
		if (letter != *lower)
			return false;
	}
	return *word == *lower;
}

/* Letters where a value is expected. */
static rig_status bare_word(const rig_json_scanner *scanner)
{
	static const char NO_NUMBER[] = "this is no number that JSON knows";
	static const char NO_WORD[] = "JSON does not know this word";
	static const char ALLOWED[] = "true, false or null in small letters";
	static const struct {
		const char *word;
		words words;
	} KNOWN[] = {
		{"true", {NO_WORD, ALLOWED, "write true"}},
		{"yes", {NO_WORD, ALLOWED, "write true"}},
		{"on", {NO_WORD, ALLOWED, "write true"}},
		{"false", {NO_WORD, ALLOWED, "write false"}},
		{"no", {NO_WORD, ALLOWED, "write false"}},
		{"off", {NO_WORD, ALLOWED, "write false"}},
		{"null", {NO_WORD, ALLOWED, "write null"}},
		{"none", {NO_WORD, ALLOWED, "write null"}},
		{"nil", {NO_WORD, ALLOWED, "write null"}},
		{"undefined", {NO_WORD, ALLOWED, "write null"}},
		{"nan", {NO_NUMBER, "a finite number", "write the number, or leave it out"}},
		{"inf", {NO_NUMBER, "a finite number", "write the number, or leave it out"}},
		{"infinity", {NO_NUMBER, "a finite number", "write the number, or leave it out"}},
	};
	char word[WORD_BYTES], mend[WORD_BYTES + 16];
	take_word(scanner, word);
	for (size_t i = 0; i < sizeof KNOWN / sizeof KNOWN[0]; i++) {
		if (same_ignoring_case(word[0] == '-' ? word + 1 : word, KNOWN[i].word))
			return fault_here(scanner, &KNOWN[i].words);
	}
	snprintf(mend, sizeof mend, "write \"%s\"", word);
	return fault_here(scanner,
		&(words){"text stands without quotes", "a value; text in double quotes", mend});
}

static const words TRAILING_COMMA = {
	"a comma stands after the last entry", "a comma only between entries", "delete the comma"};
static const words TWO_COMMAS = {"an entry is missing between two commas", "", "delete one comma"};
static const words FIRST_COMMA = {"a comma stands before the first entry",
	"a comma only between entries", "delete the comma"};

static rig_status unexpected_value(const rig_json_scanner *scanner)
{
	const int byte = byte_at(scanner, scanner->at);
	const bool in_array = inside(scanner) == '[';
	const bool after_comma = in_array && scanner->want == RIG_JSON_WANT_VALUE;
	if (is_letter(byte))
		return bare_word(scanner);
	if (byte == ']' && after_comma)
		return fault(scanner, scanner->comma, &TRAILING_COMMA);
	if (byte == ',' && in_array)
		return fault_here(scanner, after_comma ? &TWO_COMMAS : &FIRST_COMMA);
	if (inside(scanner) == '{' && is_one_of(byte, ",}"))
		return fault(scanner, scanner->key,
			&(words){"this key has no value", "a value after the colon",
				"write the value, or delete the key"});
	if (is_one_of(byte, "]}"))
		return mismatch(scanner);
	if (byte == '.')
		return fault_here(
			scanner, &(words){"a number begins with a point",
					 "a digit before the point", "put a 0 before the point"});
	if (byte == '+')
		return fault_here(scanner, &(words){"a number begins with a plus sign", "",
						   "leave the plus sign out"});
	return fault_here(scanner,
		&(words){"no value begins like this",
			"a number, a text in double quotes, true, false, null, [ or {", ""});
}

static rig_status unexpected_key(const rig_json_scanner *scanner)
{
	const int byte = byte_at(scanner, scanner->at);
	const bool after_comma = scanner->want == RIG_JSON_WANT_KEY;
	if (byte == '}')
		return fault(scanner, scanner->comma, &TRAILING_COMMA);
	if (byte == ',')
		return fault_here(scanner, after_comma ? &TWO_COMMAS : &FIRST_COMMA);
	if (byte == ']')
		return mismatch(scanner);
	if (is_digit(byte) && after_comma && scanner->after_number)
		return fault_here(scanner, &(words){"a number stands where a key is expected",
						   "a key in double quotes",
						   "for a decimal number write a point, "
						   "not a comma"});
	if (!is_letter(byte) && !is_digit(byte) && !is_one_of(byte, "-$"))
		return fault_here(scanner, &(words){"a key is missing", "a key in double quotes",
						   "begin the entry with its key"});
	char word[WORD_BYTES], mend[WORD_BYTES + 16];
	take_word(scanner, word);
	snprintf(mend, sizeof mend, "write \"%s\"", word);
	return fault_here(
		scanner, &(words){"a key stands without quotes", "a key in double quotes", mend});
}

static rig_status unexpected_colon(const rig_json_scanner *scanner)
{
	const int byte = byte_at(scanner, scanner->at);
	if (is_one_of(byte, ",}"))
		return fault(scanner, scanner->key,
			&(words){"this key has no value", "a colon and a value after the key",
				"write a colon and the value, or delete the key"});
	return fault_here(scanner, &(words){"a colon is missing after the key", ":",
					   "put a colon between the key and its value"});
}

static rig_status unexpected_after_value(const rig_json_scanner *scanner)
{
	const int byte = byte_at(scanner, scanner->at);
	if (is_one_of(byte, "]}"))
		return mismatch(scanner);
	if (scanner->depth == 0)
		return fault_here(scanner,
			&(words){"text stands after the end", "one value in a file", "delete it"});
	if (byte == ':' && inside(scanner) == '[')
		return fault_here(scanner, &(words){"a key stands in a list", ", or ]",
						   "put the key and its value in { }"});
	if (byte == ':')
		return fault_here(scanner, &(words){"a second colon stands after the value",
						   ", or }", "put the value in double quotes"});
	if (scanner->after_number && (is_letter(byte) || byte == '%'))
		return fault_here(
			scanner, &(words){"letters stand after a number", "a number alone",
					 "leave the unit out; the key names it"});
	if (is_letter(byte) || is_digit(byte) || is_one_of(byte, "\"[{-"))
		return fault_here(scanner, &(words){"a comma is missing before this", ",",
						   "put a comma after the entry before it"});
	return fault_here(scanner,
		&(words){"this cannot follow a value", inside(scanner) == '[' ? ", or ]" : ", or }",
			"put a comma between entries"});
}

rig_status rig_json_unexpected(const rig_json_scanner *scanner)
{
	const words *odd = foreign(scanner);
	if (odd != NULL)
		return fault_here(scanner, odd);
	switch (scanner->want) {
	case RIG_JSON_WANT_VALUE:
	case RIG_JSON_WANT_VALUE_OR_END:
		return unexpected_value(scanner);
	case RIG_JSON_WANT_KEY:
	case RIG_JSON_WANT_KEY_OR_END:
		return unexpected_key(scanner);
	case RIG_JSON_WANT_COLON:
		return unexpected_colon(scanner);
	case RIG_JSON_WANT_COMMA_OR_END:
		break;
	}
	return unexpected_after_value(scanner);
}

rig_status rig_json_unclosed(const rig_json_scanner *scanner)
{
	if (scanner->depth == 0)
		return fault_here(scanner, &(words){"the text is empty", "one JSON value", ""});
	const bool object = inside(scanner) == '{';
	return fault(scanner, scanner->open[scanner->depth - 1].mark,
		&(words){"this bracket is never closed", object ? "}" : "]",
			object ? "put } where it ends" : "put ] where it ends"});
}

/* A number that is whole but for what follows it directly. */
static rig_status bad_tail(const rig_json_scanner *scanner)
{
	static const words UNIT = {"letters stand after a number", "a number alone",
		"leave the unit out; the key names it"};
	static const words GROUPED = {
		"the digits of a number are grouped", "", "write the digits without a gap"};
	static const words POINTS = {
		"a number has two points", "one decimal point", "delete one of them"};
	static const words OTHER = {
		"this cannot follow a number", ", or a closing bracket", "write the number alone"};
	const words *odd = foreign(scanner);
	const int byte = byte_at(scanner, scanner->at);
	if (odd != NULL)
		return fault_here(scanner, odd);
	if (byte == '_')
		return fault_here(scanner, &GROUPED);
	if (is_letter(byte) || byte == '%' || byte >= 0x80)
		return fault_here(scanner, &UNIT);
	return fault_here(scanner, byte == '.' ? &POINTS : &OTHER);
}

rig_status rig_json_bad_number(const rig_json_scanner *scanner, rig_json_mark start)
{
	const size_t at = scanner->at;
	const bool minus = scanner->text[start.at] == '-';
	const size_t first = start.at + minus;
	const int last = at > first ? byte_at(scanner, at - 1) : -1, next = byte_at(scanner, at);
	if (at == first && is_letter(next)) {
		rig_json_scanner back = *scanner;
		back.at = start.at;
		return bare_word(&back);
	}
	if (at == first && next == '.')
		return fault(scanner, start,
			&(words){"a number begins with a point", "a digit before the point",
				"put a 0 before the point"});
	if (at == first)
		return fault(scanner, start,
			&(words){"a minus sign stands without a number",
				"a digit after the minus sign", ""});
	if (last == '.')
		return fault(scanner, start,
			&(words){"a number ends with a point", "a digit after the point",
				"put a 0 after the point, or delete it"});
	if (is_one_of(last, "eE+-"))
		return fault(scanner, start,
			&(words){
				"a number has an e without an exponent", "digits after the e", ""});
	if (last == '0' && at == first + 1 && is_digit(next))
		return fault(scanner, start,
			&(words){"a number begins with a zero", "no zeros in front",
				"leave the zeros out"});
	if (last == '0' && at == first + 1 && is_one_of(next, "xXbBoO"))
		return fault(scanner, start,
			&(words){"a number is not decimal", "decimal digits",
				"write it in decimal"});
	return bad_tail(scanner);
}

rig_status rig_json_bad_text(const rig_json_scanner *scanner, rig_json_mark start)
{
	const int byte = byte_at(scanner, scanner->at);
	if (byte < 0 || byte == '\\')
		return fault(scanner, start,
			&(words){"this text is never closed", "\"", "put \" where it ends"});
	if (byte == '\n' || byte == '\r')
		return fault(scanner, start,
			&(words){"this text is not closed on its line", "\"",
				"put \" where it ends; a line break in a text is written \\n"});
	if (byte == '\t')
		return fault_here(
			scanner, &(words){"a tab stands in a text", "", "write \\t, or a space"});
	if (byte < 0x20)
		return fault_here(
			scanner, &(words){"a control character stands in a text", "", "delete it"});
	return fault_here(scanner,
		&(words){"the text is not well-formed UTF-8", "UTF-8", "save the file as UTF-8"});
}

rig_status rig_json_bad_escape(const rig_json_scanner *scanner)
{
	static const char ALLOWED[] = "\\\" \\\\ \\/ \\b \\f \\n \\r \\t or \\u and four digits";
	const int kind = byte_at(scanner, scanner->at + 1);
	if (kind != 'u')
		return fault_here(scanner, &(words){"there is no such escape", ALLOWED,
						   kind == '\'' ? "write ' without a backslash"
								: "write \\\\ for a backslash"});
	const int code = rig_json_hex4(scanner, scanner->at + 2);
	if (code < 0)
		return fault_here(scanner, &(words){"\\u is not followed by four digits 0-9 a-f",
						   ALLOWED, "write four hexadecimal digits"});
	if (code == 0)
		return fault_here(
			scanner, &(words){"\\u0000 cannot stand in a text", "", "delete it"});
	return fault_here(scanner, &(words){"half of a surrogate pair stands alone",
					   "a pair, \\uD800-DBFF and then \\uDC00-DFFF",
					   "write the character itself"});
}

rig_status rig_json_over_limit(const rig_json_scanner *scanner, rig_json_mark mark,
	const char *what, int limit, const char *of)
{
	char allowed[64];
	snprintf(allowed, sizeof allowed, "at most %d %s", limit, of);
	rig_diags_add(scanner->diags, &(rig_diag){.where = {mark.place.line, mark.place.column, ""},
					      .what = what,
					      .allowed = allowed});
	return RIG_BAD_INPUT;
}
