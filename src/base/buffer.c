/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/buffer.h"

#include <assert.h>
#include <float.h>
#include <math.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIRST_BYTES = 256, MAX_DECIMALS = 9 };

/* Whole numbers below this are exact in a double and their digits fit in 15 places. */
static const double FIXED_LIMIT = 1e15;

void rig_buffer_free(rig_buffer *buffer)
{
	free(buffer->text);
	*buffer = (rig_buffer){0};
}

/* Room for more bytes and the NUL. */
static bool reserve(rig_buffer *buffer, size_t more)
{
	if (buffer->text != NULL && more < buffer->room - buffer->length)
		return true;
	if (more > SIZE_MAX / 4 - buffer->length) {
		buffer->failed = true;
		return false;
	}
	size_t room = buffer->room == 0 ? FIRST_BYTES : buffer->room;
	while (room <= buffer->length + more)
		room *= 2;
	char *text = realloc(buffer->text, room);
	if (text == NULL) {
		buffer->failed = true;
		return false;
	}
	buffer->text = text;
	buffer->room = room;
	return true;
}

void rig_buffer_add_bytes(rig_buffer *buffer, const char *bytes, size_t length)
{
	if (!reserve(buffer, length))
		return;
	if (length > 0)
		memcpy(buffer->text + buffer->length, bytes, length);
	buffer->length += length;
	buffer->text[buffer->length] = '\0';
}

void rig_buffer_add(rig_buffer *buffer, const char *text)
{
	rig_buffer_add_bytes(buffer, text, strlen(text));
}

void rig_buffer_format(rig_buffer *buffer, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	const int length = vsnprintf(NULL, 0, format, arguments);
	va_end(arguments);
	if (length < 0) {
		buffer->failed = true;
	} else if (reserve(buffer, (size_t)length)) {
		va_start(arguments, format);
		vsnprintf(buffer->text + buffer->length, (size_t)length + 1, format, arguments);
		va_end(arguments);
		buffer->length += (size_t)length;
	}
}

/* Writes the digits of value so that they end before `end`, at least `places` of them; gives the
 * first. */
static char *digits_before(char *end, uint64_t value, int places)
{
	char *first = end;
	for (int i = 0; i < places || value > 0; i++) {
		*--first = (char)('0' + value % 10);
		value /= 10;
	}
	return first;
}

/* fraction * scale rounded to the nearest whole number, exactly; a tie goes to even. fraction is in
 * [0, 1), scale a power of ten up to 1e9. whole decides what is even when there are no decimals. */
static uint64_t round_fraction(double fraction, uint32_t scale, uint64_t whole)
{
	const double product = fraction * scale;
	const uint64_t below = (uint64_t)product;
	const double rest = product - (double)below;
	if (rest < 0.5)
		return below;
	if (rest > 0.5)
		return below + 1;
	/* The product was rounded onto the tie; the part lost says on which side it was. */
	const double lost = fma(fraction, scale, -product);
	const uint64_t odd = (scale == 1 ? whole : below) & 1;
	return below + (lost > 0 || (lost == 0 && odd) ? 1 : 0);
}

void rig_buffer_fixed(rig_buffer *buffer, double value, int decimals)
{
	static const uint32_t SCALE[MAX_DECIMALS + 1] = {
		1, 10, 100, 1000, 10000, 100000, 1000000, 10000000, 100000000, 1000000000};
	assert(decimals >= 0 && decimals <= MAX_DECIMALS && fabs(value) < FIXED_LIMIT);
	const double size = fabs(value);
	uint64_t whole = (uint64_t)size;
	uint64_t part = round_fraction(size - (double)whole, SCALE[decimals], whole);
	if (part >= SCALE[decimals]) {
		part -= SCALE[decimals];
		whole++;
	}
	char text[32];
	char *const end = text + sizeof text;
	char *first = end;
	if (decimals > 0) {
		first = digits_before(end, part, decimals);
		*--first = '.';
	}
	first = digits_before(first, whole, 1);
	if (value < 0 && (whole > 0 || part > 0))
		*--first = '-';
	rig_buffer_add_bytes(buffer, first, (size_t)(end - first));
}

/* Copies a number that printf made, with a full stop for whatever the locale puts there. */
static void add_neutral(rig_buffer *buffer, const char *text)
{
	bool in_point = false;
	for (; *text != '\0'; text++) {
		if (strchr("+-e0123456789", *text) != NULL) {
			rig_buffer_add_bytes(buffer, text, 1);
			in_point = false;
		} else if (!in_point) {
			rig_buffer_add_bytes(buffer, ".", 1);
			in_point = true;
		}
	}
}

/* ---- the fewest digits that read back as the same double ---- */

__extension__ typedef unsigned __int128 wide;

enum { MOST_DIGITS = 17, LEAST_DIGITS = 15 };

/* Decimals whose digits stand without an exponent and whose arithmetic fits in 128 bits. */
static const double LEAST_PLAIN = 1e-4;

/* A double m 2^-shift as 17 digits and what is left of it: m 10^power = whole 2^shift + rest. */
typedef struct {
	uint64_t m, whole;
	wide all, rest, unit; /* unit: 10^power, what one step of m is worth */
	int shift, exponent;  /* of ten, of the first digit */
} decimal;

static wide power_of_ten(int power)
{
	wide value = 1;
	while (power-- > 0)
		value *= 10;
	return value;
}

/* For sizes from LEAST_PLAIN up to FIXED_LIMIT. */
static decimal decimal_of(double size)
{
	static const uint64_t FIRST_TOO_LARGE = 100000000000000000, LEAST = 10000000000000000;
	int exponent = 0;
	decimal d = {.m = (uint64_t)ldexp(frexp(size, &exponent), 53)};
	d.shift = 53 - exponent;
	d.exponent = (int)floor(log10(size));
	/* the logarithm may be a digit off */
	for (int k = 0; k < 3; k++) {
		d.unit = power_of_ten(MOST_DIGITS - 1 - d.exponent);
		d.all = d.unit * d.m;
		d.whole = (uint64_t)(d.all >> d.shift);
		d.exponent += d.whole >= FIRST_TOO_LARGE ? 1 : d.whole < LEAST ? -1 : 0;
		if (d.whole >= LEAST && d.whole < FIRST_TOO_LARGE)
			break;
	}
	d.rest = d.all - ((wide)d.whole << d.shift);
	return d;
}

/* Rounded to fewer digits, a tie to even; step is ten to the power of those that go. */
static uint64_t round_digits(const decimal *d, uint64_t step)
{
	const uint64_t kept = d->whole / step, gone = d->whole % step;
	const wide twice = step == 1 ? d->rest * 2 : (wide)gone * 2;
	const wide full = step == 1 ? (wide)1 << d->shift : (wide)step;
	const bool above = twice > full || (twice == full && step > 1 && d->rest > 0);
	const bool tie = twice == full && !above;
	return kept + (above || (tie && kept % 2 == 1) ? 1 : 0);
}

/* Whether digits that many steps large are read as the same double: it is the nearest. */
static bool reads_back(const decimal *d, uint64_t digits, uint64_t step)
{
	const wide value = (wide)(digits * step) << d->shift;
	const bool below = value < d->all;
	const wide apart = below ? d->all - value : value - d->all;
	/* below a power of two doubles stand twice as close */
	const bool close_below = below && d->m == (uint64_t)1 << 52;
	const wide reach = apart * (close_below ? 4 : 2);
	return reach < d->unit || (reach == d->unit && d->m % 2 == 0);
}

/* Writes digits with the point where the exponent says, without zeros at the end. */
static void add_plain(rig_buffer *buffer, bool negative, uint64_t digits, int exponent, int places)
{
	char text[64], figures[24];
	char *const first = digits_before(figures + sizeof figures, digits, places);
	char *to = text;
	int n = places;
	while (n > 1 && n > exponent + 1 && first[n - 1] == '0')
		n--;
	if (negative)
		*to++ = '-';
	if (exponent < 0)
		*to++ = '0';
	for (int k = exponent; k < 0; k++)
		*to++ = k == exponent ? '.' : '0';
	for (int k = 0; k < n; k++) {
		*to++ = first[k];
		if (k == exponent && k + 1 < n)
			*to++ = '.';
	}
	rig_buffer_add_bytes(buffer, text, (size_t)(to - text));
}

/* False where the digits want an exponent. */
static bool add_shortest(rig_buffer *buffer, double value)
{
	const double size = fabs(value);
	if (size < LEAST_PLAIN || size >= FIXED_LIMIT)
		return false;
	const decimal d = decimal_of(size);
	for (int places = LEAST_DIGITS; places <= MOST_DIGITS; places++) {
		const uint64_t step = (uint64_t)power_of_ten(MOST_DIGITS - places);
		const uint64_t digits = round_digits(&d, step);
		const bool carried = digits == (uint64_t)power_of_ten(places);
		if (!reads_back(&d, digits, step))
			continue;
		if (carried && d.exponent + 1 >= LEAST_DIGITS)
			return false;
		add_plain(buffer, value < 0, carried ? digits / 10 : digits,
			d.exponent + (carried ? 1 : 0), places);
		return true;
	}
	return false;
}

void rig_buffer_exact(rig_buffer *buffer, double value)
{
	assert(isfinite(value));
	if (fabs(value) < FIXED_LIMIT && value == trunc(value) && !(value == 0 && signbit(value))) {
		rig_buffer_fixed(buffer, value, 0);
		return;
	}
	if (add_shortest(buffer, value))
		return;
	/* Fifteen digits are enough for any text that had no more; below the normal range a double
	 * holds fewer, so that fewer may do. */
	char text[64];
	for (int digits = fabs(value) < DBL_MIN ? 1 : 15; digits <= 17; digits++) {
		snprintf(text, sizeof text, "%.*g", digits, value);
		if (strtod(text, NULL) == value)
			break;
	}
	add_neutral(buffer, text);
}
