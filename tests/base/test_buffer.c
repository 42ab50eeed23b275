/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/buffer.h"

#include <float.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "suites.h"

/* xorshift64* of [VIGNA-2016]; the seed stands in the message of a failure. */
static const uint64_t SEED = 20240229;

static uint64_t next_bits(uint64_t *state)
{
	*state ^= *state >> 12;
	*state ^= *state << 25;
	*state ^= *state >> 27;
	return *state * 2685821657736338717U;
}

static const char *exact(double value, rig_buffer *buffer)
{
	buffer->length = 0;
	rig_buffer_exact(buffer, value);
	return buffer->text;
}

static const char *fixed(double value, int decimals, rig_buffer *buffer)
{
	buffer->length = 0;
	rig_buffer_fixed(buffer, value, decimals);
	return buffer->text;
}

START_TEST(texts_are_put_together)
{
	rig_buffer buffer = {0};
	rig_buffer_add(&buffer, "");
	ck_assert_str_eq(buffer.text, "");
	rig_buffer_add(&buffer, "30");
	rig_buffer_add_bytes(&buffer, " A and more", 2);
	rig_buffer_format(&buffer, ", %d %s", 50, "A");
	ck_assert_str_eq(buffer.text, "30 A, 50 A");
	ck_assert_uint_eq(buffer.length, 10);
	for (int i = 0; i < 100000; i++)
		rig_buffer_add(&buffer, "0123456789");
	ck_assert_uint_eq(buffer.length, 1000010);
	ck_assert_str_eq(buffer.text + 1000000, "0123456789");
	rig_buffer_format(&buffer, "%70000d", 5);
	ck_assert_uint_eq(buffer.length, 1070010);
	ck_assert(!buffer.failed);
	rig_buffer_free(&buffer);
	ck_assert_ptr_null(buffer.text);
}
END_TEST

START_TEST(a_growth_that_fails_is_remembered_and_harmless)
{
	rig_buffer buffer = {0};
	rig_buffer_add(&buffer, "kept");
	rig_buffer_add_bytes(&buffer, "", SIZE_MAX / 2);
	ck_assert(buffer.failed);
	ck_assert_str_eq(buffer.text, "kept");
	rig_buffer_free(&buffer);
	ck_assert(!buffer.failed);
}
END_TEST

/* By hand. Binary values that are exact ties go to even, as [IEEE-754] section 4.3.1 has it;
 * 1.005 and 0.15 are below, 0.35 above the decimal that they are written as. */
static const struct {
	double value;
	int decimals;
	const char *text;
} FIXED[] = {
	{0.0, 0, "0"},
	{-0.0, 0, "0"},
	{-0.0, 3, "0.000"},
	{-0.4, 0, "0"},
	{-0.004, 2, "0.00"},
	{-0.006, 2, "-0.01"},
	{0.5, 0, "0"},
	{1.5, 0, "2"},
	{2.5, 0, "2"},
	{-2.5, 0, "-2"},
	{3.5, 0, "4"},
	{0.125, 2, "0.12"},
	{0.375, 2, "0.38"},
	{1.005, 2, "1.00"},
	{0.15, 1, "0.1"},
	{0.35, 1, "0.3"},
	{0.45, 1, "0.5"},
	{9.995, 2, "9.99"},
	{9.9951, 2, "10.00"},
	{0.999999999, 9, "0.999999999"},
	{0.9999999999, 9, "1.000000000"},
	{-99.96, 1, "-100.0"},
	{1e-300, 9, "0.000000000"},
	{123456.789, 3, "123456.789"},
	{999999999999999.0, 0, "999999999999999"},
	{999999999999999.9, 0, "1000000000000000"},
	{-562949953421311.75, 2, "-562949953421311.75"},
	{4503599627370495.5 / 8, 4, "562949953421311.9375"},
};

START_TEST(fixed_decimals_are_rounded_exactly)
{
	rig_buffer buffer = {0};
	ck_assert_str_eq(fixed(FIXED[_i].value, FIXED[_i].decimals, &buffer), FIXED[_i].text);
	rig_buffer_free(&buffer);
}
END_TEST

/* The C library rounds exactly too. It writes "-0"; that is the one thing wanted otherwise. */
START_TEST(fixed_decimals_agree_with_the_c_library)
{
	rig_buffer buffer = {0};
	uint64_t state = SEED;
	for (int i = 0; i < 200000; i++) {
		const int decimals = (int)(next_bits(&state) % 10);
		const double scale = pow(10, (double)(next_bits(&state) % 25) - 10);
		double value = ((double)next_bits(&state) / 9223372036854775808.0 - 1) * scale;
		if (i % 4 == 0) /* near and on ties */
			value = rint(value * 1024) / 1024;
		char theirs[64];
		snprintf(theirs, sizeof theirs, "%.*f", decimals, value);
		const char *expected =
			strtod(theirs, NULL) == 0 && *theirs == '-' ? theirs + 1 : theirs;
		if (fabs(value) < 1e15)
			ck_assert_msg(strcmp(fixed(value, decimals, &buffer), expected) == 0,
				"seed %ju: %a to %d: %s", (uintmax_t)SEED, value, decimals,
				buffer.text);
	}
	rig_buffer_free(&buffer);
}
END_TEST

static const struct {
	double value;
	const char *text;
} EXACT[] = {
	{0.0, "0"},
	{-0.0, "-0"},
	{1.0, "1"},
	{-12.0, "-12"},
	{0.1, "0.1"},
	{0.1 + 0.2, "0.30000000000000004"}, /* 0.30000000000000004441 by its binary value */
	{1.0 / 3, "0.3333333333333333"},
	{395.21749894136894, "395.21749894136894"},
	{999999999999999.0, "999999999999999"},
	{1e15, "1e+15"},
	{1e22, "1e+22"},
	{1e23, "1e+23"},
	{123456789.25, "123456789.25"},
	{1e-7, "1e-07"},
	{DBL_MAX, "1.7976931348623157e+308"},
	{DBL_MIN, "2.2250738585072014e-308"},
	{5e-324, "5e-324"},
	{1e-310, "1e-310"},
};

START_TEST(exact_texts_are_short)
{
	rig_buffer buffer = {0};
	ck_assert_str_eq(exact(EXACT[_i].value, &buffer), EXACT[_i].text);
	rig_buffer_free(&buffer);
}
END_TEST

/* The plain way: as many digits as it takes, by the C library, which rounds exactly and reads the
 * nearest. */
static void check_as_library(double value, rig_buffer *buffer)
{
	char plain[64];
	for (int digits = 15; digits <= 17; digits++) {
		snprintf(plain, sizeof plain, "%.*g", digits, value);
		if (strtod(plain, NULL) == value)
			break;
	}
	ck_assert_msg(strcmp(exact(value, buffer), plain) == 0, "seed %ju: %a: %s, not %s",
		(uintmax_t)SEED, value, buffer->text, plain);
}

/* Sizes from 1e-6 to 1e16, on both sides of where an exponent begins: any bits, few digits, powers
 * of two and of ten and their neighbours. */
START_TEST(exact_texts_are_those_of_the_c_library)
{
	rig_buffer buffer = {0};
	uint64_t state = SEED;
	for (int i = 0; i < 200000; i++) {
		const uint64_t bits = next_bits(&state);
		const double share = ldexp((double)(bits >> 11), -53);
		const double any = pow(10.0, -6.0 + 22.0 * share);
		const double few = (double)(bits % 1000000007) / pow(10.0, (double)(bits >> 60));
		const double two = ldexp(1.0, (int)(bits % 70) - 19);
		const double ten = pow(10.0, (double)(bits % 21) - 5.0);
		const double values[] = {any, -any, nextafter(few, any), two, nextafter(two, 0),
			nextafter(two, INFINITY), ten, nextafter(ten, 0), nextafter(ten, INFINITY)};
		for (size_t k = 0; k < COUNT(values); k++)
			check_as_library(values[k], &buffer);
		if (few >= 1e-4)
			check_as_library(few, &buffer);
	}
	rig_buffer_free(&buffer);
}
END_TEST

static size_t n_digits(const char *text)
{
	size_t n = 0;
	for (; *text != '\0' && *text != 'e'; text++)
		n += *text >= '0' && *text <= '9';
	return n;
}

static void check_reads_back(double value, rig_buffer *buffer)
{
	const double again = strtod(exact(value, buffer), NULL);
	ck_assert_msg(again == value && signbit(again) == signbit(value), "seed %ju: %a became %s",
		(uintmax_t)SEED, value, buffer->text);
}

START_TEST(exact_texts_read_back_as_the_same_double)
{
	rig_buffer buffer = {0};
	uint64_t state = SEED;
	for (int i = 0; i < 100000; i++) {
		const uint64_t bits = next_bits(&state);
		double value;
		memcpy(&value, &bits, sizeof value);
		if (isfinite(value))
			check_reads_back(value, &buffer);
		/* what people write: few digits come back as they went in */
		const double written = (double)(bits % 100000) / 1000;
		check_reads_back(written, &buffer);
		ck_assert_uint_le(n_digits(buffer.text), 5);
	}
	rig_buffer_free(&buffer);
}
END_TEST

Suite *buffer_suite(void);
Suite *buffer_suite(void)
{
	Suite *suite = suite_create("buffer");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 60);
	tcase_add_test(all, texts_are_put_together);
	tcase_add_test(all, a_growth_that_fails_is_remembered_and_harmless);
	tcase_add_loop_test(all, fixed_decimals_are_rounded_exactly, 0, COUNT(FIXED));
	tcase_add_test(all, fixed_decimals_agree_with_the_c_library);
	tcase_add_loop_test(all, exact_texts_are_short, 0, COUNT(EXACT));
	tcase_add_test(all, exact_texts_are_those_of_the_c_library);
	tcase_add_test(all, exact_texts_read_back_as_the_same_double);
	suite_add_tcase(suite, all);
	return suite;
}
