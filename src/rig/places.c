/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <limits.h>
#include <math.h>
#include <string.h>

#include "rig/tables.h"
#include "rigbudget/place.h"

static const double RAD_PER_DEG = 3.14159265358979323846 / 180;
static const double EARTH_RADIUS_KM = 6371.0088; /* mean radius of the 1980 reference ellipsoid */
static const double ONE_TOWN_KM = 60;            /* places no farther apart can share a name */

/* How far the table's mean of a place may be from the true long mean. The table's readings on which
 * this rests are in profiles/places.json; the rule is our judgement.
 *   a long record        5 % either way: modelled irradiance and thirty years' mean
 *   a short record, in   besides, it may be as wrong as it differs from its neighbours over the
 *   step                 year; and short records read 3 to 4 % low, so at least that upwards
 *   a short record,      10 % either way; besides, the mean of how it differs over the year and in
 *   unconfirmed          the worst month (which month is not recorded; it is a snow month mostly)
 *   no neighbours        10 % either way and 15 % for what nobody compared
 * A comparison beyond 50 % comes from a month with almost no sun and is read as 50 %. */
static const double LONG_FRAC = 0.05;
static const double UNCONFIRMED_FRAC = 0.10;
static const double SHORT_LOW_FRAC = 0.04;
static const double UNCOMPARED_FRAC = 0.15;
static const double COMPARED_LIMIT_FRAC = 0.50;

static double compared_frac(int permille)
{
	return fmax(-COMPARED_LIMIT_FRAC, fmin(COMPARED_LIMIT_FRAC, permille / 1000.0));
}

static void set_ratios(const rig_packed_place *packed, rig_place *place)
{
	const double year = compared_frac(packed->year_permille);
	const double month = compared_frac(packed->month_permille);
	double base = LONG_FRAC;
	double over_low = 0;  /* how much too high the table may be */
	double over_high = 0; /* how much too low, as a negative excess */
	if (place->record != RIG_RECORD_LONG) {
		double excess = year;
		over_high = -SHORT_LOW_FRAC;
		if (packed->year_permille == RIG_PACKED_NONE) {
			over_low = UNCOMPARED_FRAC;
			excess = -UNCOMPARED_FRAC;
		} else if (place->record == RIG_RECORD_SHORT_UNCONFIRMED) {
			excess = (year + month) / 2;
		}
		over_low = fmax(over_low, excess);
		over_high = fmin(over_high, excess);
	}
	if (place->record == RIG_RECORD_SHORT_UNCONFIRMED)
		base = UNCONFIRMED_FRAC;
	place->sun_low_ratio = (1 - base) / (1 + over_low);
	place->sun_high_ratio = (1 + base) / (1 + over_high);
}

size_t rig_n_places(void)
{
	return rig_table_n_places;
}

const char *rig_places_credit(void)
{
	return rig_table_places_credit;
}

rig_figure rig_month_scatter_frac(void)
{
	return rig_table_month_scatter_frac;
}

static const char *name_at(size_t i)
{
	return rig_table_place_names + rig_table_places[i].name;
}

static void unpack(const int16_t packed[12], double per_unit, double months[12])
{
	for (int m = 0; m < 12; m++)
		months[m] = packed[m] / per_unit;
}

void rig_place_at(size_t i, rig_place *place)
{
	assert(i < rig_table_n_places);
	const rig_packed_place *packed = &rig_table_places[i];
	memset(place, 0, sizeof *place);
	strncpy(place->name, name_at(i), sizeof place->name - 1);
	uint32_t station = packed->station;
	for (int digit = 5; digit >= 0; digit--, station /= 10)
		place->station[digit] = (char)('0' + station % 10);
	place->latitude_deg = packed->latitude_mdeg / 1000.0;
	place->longitude_deg = packed->longitude_mdeg / 1000.0;
	place->elevation_m = packed->elevation_m;
	place->utc_offset_h = packed->utc_offset_quarters / 4.0;
	place->record = (rig_record)packed->record;
	unpack(packed->ghi, 100, place->ghi_kwh_m2_day);
	unpack(packed->dhi, 100, place->dhi_kwh_m2_day);
	unpack(packed->kt_sd, 1000, place->kt_sd);
	unpack(packed->temp_mean, 10, place->temp_mean_c);
	unpack(packed->temp_min, 10, place->temp_min_c);
	unpack(packed->temp_max, 10, place->temp_max_c);
	set_ratios(packed, place);
	place->month_scatter_frac = rig_table_month_scatter_frac.likely;
}

/* Great circle by the haversine, which keeps its digits at short distances. */
static double distance_to_km(size_t i, double latitude_deg, double longitude_deg)
{
	const double lat1 = latitude_deg * RAD_PER_DEG;
	const double lat2 = rig_table_places[i].latitude_mdeg / 1000.0 * RAD_PER_DEG;
	const double half_lat = (lat2 - lat1) / 2;
	const double half_lon =
		(rig_table_places[i].longitude_mdeg / 1000.0 - longitude_deg) * RAD_PER_DEG / 2;
	const double h = sin(half_lat) * sin(half_lat) +
			 cos(lat1) * cos(lat2) * sin(half_lon) * sin(half_lon);
	return 2 * EARTH_RADIUS_KM * asin(fmin(1, sqrt(h)));
}

size_t rig_place_nearest(double latitude_deg, double longitude_deg, double *distance_km)
{
	assert(fabs(latitude_deg) <= 90 && isfinite(longitude_deg));
	size_t nearest = 0;
	*distance_km = INFINITY;
	for (size_t i = 0; i < rig_table_n_places; i++) {
		const double distance = distance_to_km(i, latitude_deg, longitude_deg);
		if (distance < *distance_km) {
			*distance_km = distance;
			nearest = i;
		}
	}
	return nearest;
}

/* ---- names ---- */

enum { MAX_NAME = 64 };

/* A name as compared: lower case, words apart by one space, the state's letters (if any) aside. */
typedef struct {
	char words[MAX_NAME];
	char state[3];
} plain_name;

static char lower(char c)
{
	static const char LOWER[] = "abcdefghijklmnopqrstuvwxyz";
	if (c >= 'A' && c <= 'Z')
		return LOWER[c - 'A'];
	return c;
}

/* Bytes of no word: spaces, commas, stops, hyphens. */
static bool parts_words(char c)
{
	return c == ' ' || c == ',' || c == '.' || c == '-' || c == '\t';
}

static bool is_letter(char c)
{
	return c >= 'a' && c <= 'z';
}

static bool is_state(const char state[2])
{
	for (size_t i = 0; i < rig_table_n_places; i++) {
		const char *name = name_at(i);
		const size_t length = strlen(name);
		if (lower(name[length - 2]) == state[0] && lower(name[length - 1]) == state[1])
			return true;
	}
	return false;
}

/* Words in lower case with one space between; gives their length. Names longer than any in the
 * table are cut: they match none. */
static size_t plain_words(const char *name, char words[MAX_NAME])
{
	size_t n = 0;
	for (const char *c = name; *c != '\0' && n < MAX_NAME - 1; c++) {
		if (*c == '\'')
			continue;
		if (!parts_words(*c))
			words[n++] = lower(*c);
		else if (n > 0 && words[n - 1] != ' ')
			words[n++] = ' ';
	}
	while (n > 0 && words[n - 1] == ' ')
		n--;
	words[n] = '\0';
	return n;
}

/* Takes the last word, of two letters, away as the state's. */
static void part_state(plain_name *name, size_t length)
{
	memcpy(name->state, name->words + length - 2, 2);
	name->words[length - 3] = '\0';
}

static plain_name plain_asked(const char *asked)
{
	plain_name name = {{0}, {0}};
	const size_t n = plain_words(asked, name.words);
	if (n > 3 && name.words[n - 3] == ' ' && is_letter(name.words[n - 2]) &&
		is_letter(name.words[n - 1]) && is_state(name.words + n - 2))
		part_state(&name, n);
	return name;
}

/* A place's name as we write it and as its source does; every name ends in a state's letters. */
static plain_name plain_at(size_t i, int which)
{
	plain_name name = {{0}, {0}};
	const uint32_t at = which == 0 ? rig_table_places[i].name : rig_table_places[i].source_name;
	part_state(&name, plain_words(rig_table_place_names + at, name.words));
	return name;
}

static bool same_state(const plain_name *wanted, const plain_name *place)
{
	return wanted->state[0] == '\0' || strcmp(wanted->state, place->state) == 0;
}

static bool starts_with(const plain_name *place, const plain_name *wanted)
{
	return strncmp(place->words, wanted->words, strlen(wanted->words)) == 0;
}

/* Whether the start ends where a word does: "fort" before "fortuna". */
static bool starts_with_words(const plain_name *place, const plain_name *wanted)
{
	const size_t length = strlen(wanted->words);
	return starts_with(place, wanted) &&
	       (place->words[length] == '\0' || place->words[length] == ' ');
}

typedef bool name_match(const plain_name *place, const plain_name *wanted);

static bool is_mended(size_t i)
{
	return rig_table_places[i].source_name != rig_table_places[i].name;
}

static bool source_matches(size_t i, const plain_name *wanted, name_match *matches)
{
	if (!is_mended(i))
		return false;
	const plain_name name = plain_at(i, 1);
	return matches(&name, wanted);
}

/* False only where neither of a place's names begins with that letter: most are passed over so. */
static bool may_start_with(size_t i, char letter)
{
	const char names[] = {lower(rig_table_place_names[rig_table_places[i].name]),
		lower(rig_table_place_names[rig_table_places[i].source_name])};
	return names[0] == letter || names[1] == letter || !is_letter(names[0]) ||
	       !is_letter(names[1]);
}

/* Of the places that match, the one that is meant, or -1: those that match must lie together. */
static long the_one(const plain_name *wanted, name_match *matches)
{
	long best = -1;
	plain_name best_name = {{0}, {0}};
	for (size_t i = 0; i < rig_table_n_places; i++) {
		if (!may_start_with(i, wanted->words[0]))
			continue;
		const plain_name name = plain_at(i, 0);
		if (!same_state(wanted, &name) ||
			!(matches(&name, wanted) || source_matches(i, wanted, matches)))
			continue;
		if (best >= 0) {
			const rig_packed_place *b = &rig_table_places[best];
			if (strcmp(name.state, best_name.state) != 0 ||
				distance_to_km(i, b->latitude_mdeg / 1000.0,
					b->longitude_mdeg / 1000.0) > ONE_TOWN_KM)
				return -1;
			if (rig_table_places[i].record >= b->record)
				continue;
		}
		best = (long)i;
		best_name = name;
	}
	return best;
}

static bool same_words(const plain_name *place, const plain_name *wanted)
{
	return strcmp(place->words, wanted->words) == 0;
}

long rig_place_find(const char *name)
{
	const plain_name wanted = plain_asked(name);
	if (wanted.words[0] == '\0')
		return -1;
	long found = wanted.state[0] != '\0' ? the_one(&wanted, same_words) : -1;
	if (found < 0)
		found = the_one(&wanted, starts_with);
	if (found < 0)
		found = the_one(&wanted, starts_with_words);
	return found;
}

/* Two neighbours of word, ending at i, that stand swapped in of, ending at j. */
static bool swapped(const char *word, size_t i, const char *of, size_t j)
{
	return i > 1 && j > 1 && word[i - 1] == of[j - 2] && word[i - 2] == of[j - 1];
}

static int least(int a, int b)
{
	return a < b ? a : b;
}

/* Fewest letters to add, drop, change or swap with a neighbour to make the start of `of`, up to
 * the end of one of its words, into `word`. Both are shorter than MAX_NAME. */
static int slips_from_start(const char *word, const char *of)
{
	int rows[3][MAX_NAME + 1];
	const size_t n = strlen(of);
	int *before = rows[0];
	int *above = rows[1];
	int *row = rows[2];
	for (size_t j = 0; j <= n; j++)
		above[j] = (int)j;
	for (size_t i = 1; word[i - 1] != '\0'; i++) {
		row[0] = (int)i;
		for (size_t j = 1; j <= n; j++) {
			row[j] = least(above[j - 1] + (word[i - 1] != of[j - 1]),
				least(above[j], row[j - 1]) + 1);
			if (swapped(word, i, of, j))
				row[j] = least(row[j], before[j - 2] + 1);
		}
		int *const spare = before;
		before = above;
		above = row;
		row = spare;
	}
	int fewest = above[n];
	for (size_t j = 0; j < n; j++)
		if (of[j] == ' ')
			fewest = least(fewest, above[j]);
	return fewest;
}

static int unlikeness_of_name(const plain_name *wanted, const plain_name *name)
{
	const int other_state = same_state(wanted, name) ? 0 : 1;
	if (starts_with(name, wanted))
		return other_state;
	int fewest = slips_from_start(wanted->words, name->words);
	for (const char *c = strchr(name->words, ' '); c != NULL; c = strchr(c + 1, ' ')) {
		fewest = least(fewest, 1 + slips_from_start(wanted->words, c + 1));
	}
	return fewest + other_state;
}

/* How unlike a place's names are to what was wanted; the state counts a letter. */
static int unlikeness(const plain_name *wanted, size_t i)
{
	const plain_name name = plain_at(i, 0);
	const int ours = unlikeness_of_name(wanted, &name);
	if (!is_mended(i))
		return ours;
	const plain_name source_name = plain_at(i, 1);
	return least(ours, unlikeness_of_name(wanted, &source_name));
}

size_t rig_place_suggest(const char *name, size_t n, size_t index[])
{
	const plain_name wanted = plain_asked(name);
	const int length = (int)strlen(wanted.words);
	const int limit = length < 3 ? 1 : length / 3 + 1;
	size_t found = 0;
	for (int unlike = 0; unlike <= limit && length > 0; unlike++)
		for (size_t i = 0; i < rig_table_n_places && found < n; i++)
			if (unlikeness(&wanted, i) == unlike)
				index[found++] = i;
	return found;
}
