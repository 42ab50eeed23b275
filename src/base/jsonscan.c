/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/jsonscan.h"

#include <stdlib.h>
#include <string.h>

enum { NOTHING = -1, FIRST_ENTRIES = 256 };

/* The byte at the scanner, or NOTHING at the end. */
static int peek(const rig_json_scanner *scanner)
{
	return scanner->at < scanner->length ? (unsigned char)scanner->text[scanner->at] : NOTHING;
}

static bool is_digit(int byte)
{
	return byte >= '0' && byte <= '9';
}

rig_json_mark rig_json_here(const rig_json_scanner *scanner)
{
	const size_t column = scanner->at - scanner->line_start - scanner->n_inner + 1;
	return (rig_json_mark){scanner->at, {scanner->line, (uint32_t)column}};
}

/* A line ends with LF, CR LF or a lone CR. */
static void skip_space(rig_json_scanner *scanner)
{
	for (; scanner->at < scanner->length; scanner->at++) {
		const char byte = scanner->text[scanner->at];
		if (byte == ' ' || byte == '\t')
			continue;
		if (byte != '\n' && byte != '\r')
			return;
		if (byte == '\r' && scanner->at + 1 < scanner->length &&
			scanner->text[scanner->at + 1] == '\n')
			continue;
		scanner->line++;
		scanner->line_start = scanner->at + 1;
		scanner->n_inner = 0;
	}
}

/* The well-formed sequences of table 3-7 of [UNICODE-15]: a range for the second byte, by the
 * first. The bytes after it are 80 to BF. */
size_t rig_json_character(const rig_json_scanner *scanner, size_t at)
{
	static const struct {
		unsigned char first_from, first_to, second_from, second_to;
		size_t length;
	} FORM[] = {
		{0xC2, 0xDF, 0x80, 0xBF, 2},
		{0xE0, 0xE0, 0xA0, 0xBF, 3},
		{0xE1, 0xEC, 0x80, 0xBF, 3},
		{0xED, 0xED, 0x80, 0x9F, 3},
		{0xEE, 0xEF, 0x80, 0xBF, 3},
		{0xF0, 0xF0, 0x90, 0xBF, 4},
		{0xF1, 0xF3, 0x80, 0xBF, 4},
		{0xF4, 0xF4, 0x80, 0x8F, 4},
	};
	const unsigned char *bytes = (const unsigned char *)scanner->text + at;
	if (bytes[0] < 0x80)
		return 1;
	size_t i = 0;
	while (i < sizeof FORM / sizeof FORM[0] &&
		(bytes[0] < FORM[i].first_from || bytes[0] > FORM[i].first_to))
		i++;
	if (i == sizeof FORM / sizeof FORM[0] || scanner->length - at < FORM[i].length)
		return 0;
	if (bytes[1] < FORM[i].second_from || bytes[1] > FORM[i].second_to)
		return 0;
	for (size_t j = 2; j < FORM[i].length; j++) {
		if (bytes[j] < 0x80 || bytes[j] > 0xBF)
			return 0;
	}
	return FORM[i].length;
}

int rig_json_hex4(const rig_json_scanner *scanner, size_t at)
{
	int code = 0;
	if (scanner->length < 4 || at > scanner->length - 4)
		return NOTHING;
	for (size_t i = at; i < at + 4; i++) {
		const char c = scanner->text[i];
		if (is_digit(c))
			code = code * 16 + (c - '0');
		else if (c >= 'a' && c <= 'f')
			code = code * 16 + (c - 'a' + 10);
		else if (c >= 'A' && c <= 'F')
			code = code * 16 + (c - 'A' + 10);
		else
			return NOTHING;
	}
	return code;
}

/* Length of the escape at the scanner's backslash; 0 if it is none. U+0000 and half a surrogate
 * pair are none. */
static size_t escape_length(const rig_json_scanner *scanner)
{
	const size_t at = scanner->at;
	const int kind = at + 1 < scanner->length ? scanner->text[at + 1] : 0;
	if (kind != 'u')
		return kind != 0 && strchr("\"\\/bfnrt", kind) != NULL ? 2 : 0;
	const int code = rig_json_hex4(scanner, at + 2);
	if (code <= 0 || (code >= 0xDC00 && code <= 0xDFFF))
		return 0;
	if (code < 0xD800 || code > 0xDBFF)
		return 6;
	const bool again = at + 7 < scanner->length && scanner->text[at + 6] == '\\' &&
			   scanner->text[at + 7] == 'u';
	const int low = again ? rig_json_hex4(scanner, at + 8) : NOTHING;
	return low >= 0xDC00 && low <= 0xDFFF ? 12 : 0;
}

/* One character of a text between quotes, or an escape. */
static rig_status text_step(rig_json_scanner *scanner, rig_json_mark start, int byte)
{
	if (byte < 0x20 || (byte == '\\' && scanner->at + 1 == scanner->length))
		return rig_json_bad_text(scanner, start);
	const size_t length =
		byte == '\\' ? escape_length(scanner) : rig_json_character(scanner, scanner->at);
	if (length == 0)
		return byte == '\\' ? rig_json_bad_escape(scanner)
				    : rig_json_bad_text(scanner, start);
	if (byte >= 0x80)
		scanner->n_inner += length - 1;
	scanner->at += length;
	return RIG_OK;
}

/* A text in double quotes, of a value or a key. */
static rig_status scan_text(rig_json_scanner *scanner)
{
	const rig_json_mark start = rig_json_here(scanner);
	scanner->at++;
	for (int byte = peek(scanner); byte != '"'; byte = peek(scanner)) {
		const rig_status status = text_step(scanner, start, byte);
		if (status != RIG_OK)
			return status;
		if (scanner->at - start.at > RIG_JSON_MAX_TEXT + 1)
			return rig_json_over_limit(
				scanner, start, "a text is too long", RIG_JSON_MAX_TEXT, "bytes");
	}
	scanner->at++;
	return RIG_OK;
}

static bool skip_digits(rig_json_scanner *scanner)
{
	const size_t start = scanner->at;
	while (is_digit(peek(scanner)))
		scanner->at++;
	return scanner->at > start;
}

/* Leaves the scanner behind the longest number of RFC 8259, section 6, and says whether there was a
 * whole one. */
static bool skip_number(rig_json_scanner *scanner)
{
	if (peek(scanner) == '-')
		scanner->at++;
	if (peek(scanner) == '0')
		scanner->at++;
	else if (!skip_digits(scanner))
		return false;
	if (peek(scanner) == '.') {
		scanner->at++;
		if (!skip_digits(scanner))
			return false;
	}
	if (peek(scanner) == 'e' || peek(scanner) == 'E') {
		scanner->at++;
		if (peek(scanner) == '+' || peek(scanner) == '-')
			scanner->at++;
		return skip_digits(scanner);
	}
	return true;
}

static rig_status scan_number(rig_json_scanner *scanner)
{
	const rig_json_mark start = rig_json_here(scanner);
	const bool whole = skip_number(scanner);
	const int next = peek(scanner);
	/* What may follow, and what is a fault of its own. */
	const bool ends = next == NOTHING || strchr(" \t\r\n,]}:;=\"[{", next) != NULL;
	if (!whole || !ends)
		return rig_json_bad_number(scanner, start);
	return RIG_OK;
}

static rig_status scan_word(rig_json_scanner *scanner)
{
	static const char *const WORD[] = {"true", "false", "null"};
	for (size_t i = 0; i < 3; i++) {
		const size_t length = strlen(WORD[i]);
		const char *rest = scanner->text + scanner->at;
		if (scanner->length - scanner->at < length || memcmp(rest, WORD[i], length) != 0)
			continue;
		const int next = scanner->length - scanner->at > length ? rest[length] : ' ';
		if ((next >= 'a' && next <= 'z') || (next >= 'A' && next <= 'Z') ||
			is_digit(next) || next == '_')
			break;
		scanner->at += length;
		return RIG_OK;
	}
	return rig_json_unexpected(scanner);
}

static rig_status note_value(rig_json_scanner *scanner)
{
	rig_json_index *index = scanner->index;
	if (index->n == RIG_JSON_MAX_VALUES)
		return rig_json_over_limit(scanner, rig_json_here(scanner),
			"there are too many values", RIG_JSON_MAX_VALUES, "values");
	if (index->n == index->room) {
		const size_t room = index->room == 0 ? FIRST_ENTRIES : index->room * 2;
		void *entries = realloc(index->entries, room * sizeof index->entries[0]);
		if (entries == NULL)
			return RIG_NO_MEMORY;
		index->entries = entries;
		index->room = room;
	}
	const bool member = scanner->depth > 0 && scanner->open[scanner->depth - 1].bracket == '{';
	struct rig_json_entry *entry = &index->entries[index->n++];
	entry->value = rig_json_here(scanner).place;
	entry->key = member ? scanner->key.place : (rig_json_place){0, 0};
	return RIG_OK;
}

static rig_status open_bracket(rig_json_scanner *scanner, char bracket)
{
	if (scanner->depth == RIG_JSON_MAX_DEPTH)
		return rig_json_over_limit(scanner, rig_json_here(scanner),
			"brackets are nested too deeply", RIG_JSON_MAX_DEPTH,
			"brackets inside each other");
	scanner->open[scanner->depth].bracket = bracket;
	scanner->open[scanner->depth].mark = rig_json_here(scanner);
	scanner->depth++;
	scanner->at++;
	scanner->want = bracket == '{' ? RIG_JSON_WANT_KEY_OR_END : RIG_JSON_WANT_VALUE_OR_END;
	return RIG_OK;
}

static void close_bracket(rig_json_scanner *scanner)
{
	scanner->depth--;
	scanner->at++;
	scanner->after_number = false;
	scanner->want = RIG_JSON_WANT_COMMA_OR_END;
}

static rig_status want_value(rig_json_scanner *scanner)
{
	const int byte = peek(scanner);
	if (byte == ']' && scanner->want == RIG_JSON_WANT_VALUE_OR_END) {
		close_bracket(scanner);
		return RIG_OK;
	}
	if (byte <= 0 || strchr("{[\"-0123456789tfn", byte) == NULL)
		return rig_json_unexpected(scanner);
	const rig_status status = note_value(scanner);
	if (status != RIG_OK)
		return status;
	if (byte == '{' || byte == '[')
		return open_bracket(scanner, (char)byte);
	scanner->after_number = byte == '-' || is_digit(byte);
	const rig_status scanned = scanner->after_number ? scan_number(scanner)
				   : byte == '"'         ? scan_text(scanner)
							 : scan_word(scanner);
	scanner->want = RIG_JSON_WANT_COMMA_OR_END;
	return scanned;
}

static rig_status want_key(rig_json_scanner *scanner)
{
	const int byte = peek(scanner);
	if (byte == '}' && scanner->want == RIG_JSON_WANT_KEY_OR_END) {
		close_bracket(scanner);
		return RIG_OK;
	}
	if (byte != '"')
		return rig_json_unexpected(scanner);
	scanner->key = rig_json_here(scanner);
	scanner->want = RIG_JSON_WANT_COLON;
	return scan_text(scanner);
}

static rig_status want_colon(rig_json_scanner *scanner)
{
	if (peek(scanner) != ':')
		return rig_json_unexpected(scanner);
	scanner->at++;
	scanner->want = RIG_JSON_WANT_VALUE;
	return RIG_OK;
}

static rig_status want_comma(rig_json_scanner *scanner)
{
	const int byte = peek(scanner);
	const bool in_object =
		scanner->depth > 0 && scanner->open[scanner->depth - 1].bracket == '{';
	if (scanner->depth > 0 && byte == (in_object ? '}' : ']')) {
		close_bracket(scanner);
		return RIG_OK;
	}
	if (scanner->depth == 0 || byte != ',')
		return rig_json_unexpected(scanner);
	scanner->comma = rig_json_here(scanner);
	scanner->at++;
	scanner->want = in_object ? RIG_JSON_WANT_KEY : RIG_JSON_WANT_VALUE;
	return RIG_OK;
}

static rig_status step(rig_json_scanner *scanner)
{
	switch (scanner->want) {
	case RIG_JSON_WANT_VALUE:
	case RIG_JSON_WANT_VALUE_OR_END:
		return want_value(scanner);
	case RIG_JSON_WANT_KEY:
	case RIG_JSON_WANT_KEY_OR_END:
		return want_key(scanner);
	case RIG_JSON_WANT_COLON:
		return want_colon(scanner);
	case RIG_JSON_WANT_COMMA_OR_END:
		break;
	}
	return want_comma(scanner);
}

rig_status rig_json_scan(const char *text, size_t length, rig_diags *diags, rig_json_index *index)
{
	rig_json_scanner scanner = {
		.text = text, .length = length, .line = 1, .index = index, .diags = diags};
	rig_status status = RIG_OK;
	while (status == RIG_OK) {
		skip_space(&scanner);
		const bool complete =
			scanner.depth == 0 && scanner.want == RIG_JSON_WANT_COMMA_OR_END;
		if (scanner.at == length && complete)
			break;
		status = scanner.at == length ? rig_json_unclosed(&scanner) : step(&scanner);
	}
	return status;
}
