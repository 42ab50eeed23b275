/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "amount.h"

#include <assert.h>
#include <math.h>
#include <string.h>

static const double FEET_PER_METRE = 1.0 / 0.3048;         /* exact by definition [NIST-SP811] */
static const double GALLONS_PER_LITRE = 1.0 / 3.785411784; /* US gallon, 231 in3 [NIST-SP811] */

/* Power of ten of the first digit; of the rounded value, so that 99.96 counts as 100. */
static int leading_power(double magnitude, int digits)
{
	const int power = (int)floor(log10(magnitude));
	const double unit = pow(10.0, power - digits + 1);
	return round(magnitude / unit) * unit >= pow(10.0, power + 1) ? power + 1 : power;
}

static void add_grouped(rig_buffer *buffer, const char *digits)
{
	if (*digits == '-') {
		rig_buffer_add(buffer, "-");
		digits++;
	}
	const size_t whole = strcspn(digits, ".");
	for (size_t i = 0; i < whole; i++) {
		if (i > 0 && (whole - i) % 3 == 0)
			rig_buffer_add(buffer, ",");
		rig_buffer_add_bytes(buffer, digits + i, 1);
	}
	rig_buffer_add(buffer, digits + whole);
}

/* Cuts zeros, and the point if nothing is left behind it. */
static void strip_zeros(char *digits)
{
	if (strchr(digits, '.') == NULL)
		return;
	size_t length = strlen(digits);
	while (digits[length - 1] == '0')
		length--;
	if (digits[length - 1] == '.')
		length--;
	digits[length] = '\0';
}

void rig_amount_round(rig_buffer *buffer, double value, int digits)
{
	assert(digits >= 1 && digits <= 6);
	if (!isfinite(value)) {
		rig_buffer_add(buffer, "not finite");
		return;
	}
	const double magnitude = fabs(value);
	if (magnitude < 1e-9) {
		rig_buffer_add(buffer, "0");
		return;
	}
	const int power = leading_power(magnitude, digits);
	const int decimals = digits - 1 - power;
	double rounded;
	if (decimals < 0) {
		const double unit = pow(10.0, -decimals);
		rounded = round(value / unit) * unit;
	} else {
		const double unit = pow(10.0, decimals);
		rounded = round(value * unit) / unit;
	}
	rig_buffer text = {0};
	const int shown = decimals < 0 ? 0 : decimals > 9 ? 9 : decimals;
	rig_buffer_fixed(&text, rounded, shown);
	if (text.failed || text.text == NULL) {
		buffer->failed = true;
	} else {
		strip_zeros(text.text);
		add_grouped(buffer, text.text);
	}
	rig_buffer_free(&text);
}

void rig_amount_span(rig_buffer *buffer, double low, double high, int digits)
{
	rig_buffer first = {0};
	rig_buffer last = {0};
	rig_amount_round(&first, low, digits);
	rig_amount_round(&last, high, digits);
	if (first.failed || last.failed) {
		buffer->failed = true;
	} else if (strcmp(first.text, last.text) == 0) {
		rig_buffer_add(buffer, last.text);
	} else {
		rig_buffer_add(buffer, first.text);
		rig_buffer_add(buffer, " to ");
		rig_buffer_add(buffer, last.text);
	}
	rig_buffer_free(&first);
	rig_buffer_free(&last);
}

/* The buffer's text with its unit, in the arena; the buffer is freed. */
static const char *finished(rig_arena *arena, rig_buffer *buffer, const char *unit)
{
	if (unit[0] != '\0') {
		rig_buffer_add(buffer, " ");
		rig_buffer_add(buffer, unit);
	}
	const char *text = NULL;
	if (buffer->failed)
		rig_arena_fail(arena);
	else if (buffer->text != NULL)
		text = rig_arena_text(arena, buffer->text);
	rig_buffer_free(buffer);
	return text == NULL ? "" : text;
}

const char *rig_amount(rig_arena *arena, double value, int digits, const char *unit)
{
	rig_buffer buffer = {0};
	rig_amount_round(&buffer, value, digits);
	return finished(arena, &buffer, unit);
}

const char *rig_amount_range(rig_arena *arena, rig_figure figure, const char *unit)
{
	rig_buffer buffer = {0};
	rig_amount_span(&buffer, figure.low, figure.high, 2);
	return finished(arena, &buffer, unit);
}

const char *rig_amount_likely(rig_arena *arena, rig_figure figure, const char *unit)
{
	return rig_amount(arena, figure.likely, 3, unit);
}

const char *rig_amount_full(rig_arena *arena, rig_figure figure, const char *unit)
{
	if (figure.low >= figure.high)
		return rig_amount_likely(arena, figure, unit);
	/* ends that read the same say no more than the likely value */
	const char *low = rig_amount(arena, figure.low, 2, "");
	if (strcmp(low, rig_amount(arena, figure.high, 2, "")) == 0)
		return rig_amount(arena, figure.likely, 2, unit);
	rig_buffer buffer = {0};
	rig_amount_round(&buffer, figure.likely, 2);
	rig_buffer_add(&buffer, " (");
	rig_amount_span(&buffer, figure.low, figure.high, 2);
	rig_buffer_add(&buffer, ")");
	return finished(arena, &buffer, unit);
}

const char *rig_amount_temperature(rig_arena *arena, double temp_c, rig_units units)
{
	const bool us = units == RIG_UNITS_US;
	const double shown = round(us ? temp_c * 1.8 + 32.0 : temp_c);
	rig_buffer buffer = {0};
	rig_buffer_fixed(&buffer, shown, 0);
	return finished(arena, &buffer,
		us ? "\xc2\xb0"
		     "F"
		   : "\xc2\xb0"
		     "C");
}

const char *rig_amount_length(rig_arena *arena, double length_m, rig_units units)
{
	if (units == RIG_UNITS_US)
		return rig_amount(arena, length_m * FEET_PER_METRE, 3, "ft");
	return rig_amount(arena, length_m, 3, "m");
}

const char *rig_amount_volume(rig_arena *arena, double litres, rig_units units)
{
	if (units == RIG_UNITS_US)
		return rig_amount(arena, litres * GALLONS_PER_LITRE, 2, "gallons");
	return rig_amount(arena, litres, 2, "litres");
}

const char *rig_amount_volume_range(rig_arena *arena, rig_figure litres, rig_units units)
{
	return units == RIG_UNITS_US
		       ? rig_amount_range(
				 arena, rig_figure_scale(litres, GALLONS_PER_LITRE), "gallons")
		       : rig_amount_range(arena, litres, "litres");
}
