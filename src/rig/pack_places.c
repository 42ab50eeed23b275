/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pack_places.c: places.json as whole numbers. Nothing is rounded: a figure with more digits than
 * its column holds is a fault. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "pack.h"

static const char *const KEYS[] = {"name", "station", "at", "utc_offset_h", "record",
	"neighbours_pct", "source_name", "ghi", "dhi", "kt_sd", "temp_mean", "temp_min",
	"temp_max"};

/* Twelve monthly figures. Limits are those of the sun and the air anywhere; the spread of the
 * clearness index has no sense, and so no limit but its 16 bits, in a month with almost no sun. */
static const struct {
	const char *key;
	double per_unit, limits[2];
} MONTHLY[] = {
	{"ghi", 100, {0, 10}},
	{"dhi", 100, {0, 5}},
	{"kt_sd", 1000, {0, 4}},
	{"temp_mean", 10, {-60, 50}},
	{"temp_min", 10, {-60, 50}},
	{"temp_max", 10, {-60, 55}},
};
enum { N_MONTHLY = sizeof MONTHLY / sizeof MONTHLY[0] };
enum { GHI, DHI, KT_SD, TEMP_MEAN, TEMP_MIN, TEMP_MAX };

/* The value as a whole number of 1/per_unit. */
static int whole(const pack *p, const cJSON *value, double per_unit, const double limits[2])
{
	double figure[3];
	if (cJSON_IsArray(value) || !pack_figure(p, value, limits, figure))
		return 0;
	const double scaled = figure[1] * per_unit;
	if (fabs(scaled - round(scaled)) > 1e-6)
		PACK_FAULT(p, value, "%.9g has more digits than the table keeps", figure[1]);
	return (int)lround(scaled);
}

static void add_record(const pack *p, const cJSON *place)
{
	static const char *const WORDS[] = {"long", "confirmed", "unconfirmed"};
	const char *text = pack_text(p, place, "record");
	for (int i = 0; i < 3; i++) {
		if (strcmp(text, WORDS[i]) == 0) {
			rig_buffer_format(p->out, "%d, ", i);
			return;
		}
	}
	PACK_FAULT(p, place, "record is long, confirmed or unconfirmed");
}

static void add_head(const pack *p, const cJSON *place)
{
	static const double LIMITS[3][2] = {{-90, 90}, {-180, 180}, {-100, 5000}};
	static const double PER_UNIT[3] = {1000, 1000, 1};
	static const double HOURS[2] = {-12, 14};
	const char *station = pack_text(p, place, "station");
	const cJSON *at = pack_member(p, place, "at");
	if (strlen(station) != 6 || strspn(station, "0123456789") != 6)
		PACK_FAULT(p, place, "a station is six digits");
	if (!cJSON_IsArray(at) || cJSON_GetArraySize(at) != 3) {
		PACK_FAULT(p, place, "\"at\" is latitude, longitude and elevation");
		return;
	}
	rig_buffer_format(p->out, "%ld, ", strtol(station, NULL, 10));
	for (int i = 0; i < 3; i++)
		rig_buffer_format(p->out, "%d, ",
			whole(p, cJSON_GetArrayItem(at, i), PER_UNIT[i], LIMITS[i]));
	rig_buffer_format(
		p->out, "%d, ", whole(p, pack_member(p, place, "utc_offset_h"), 4, HOURS));
	add_record(p, place);
}

static void add_neighbours(const pack *p, const cJSON *place)
{
	static const double LIMITS[2] = {-100, 1000};
	const cJSON *list = pack_member(p, place, "neighbours_pct");
	if (!cJSON_IsArray(list) || cJSON_GetArraySize(list) != 2) {
		PACK_FAULT(p, place, "\"neighbours_pct\" is two numbers or nulls");
		return;
	}
	for (int i = 0; i < 2; i++) {
		const cJSON *value = cJSON_GetArrayItem(list, i);
		if (cJSON_IsNull(value))
			rig_buffer_add(p->out, "RIG_PACKED_NONE, ");
		else
			rig_buffer_format(p->out, "%d, ", whole(p, value, 10, LIMITS));
	}
}

static bool read_months(const pack *p, const cJSON *place, int months[N_MONTHLY][12])
{
	for (int k = 0; k < N_MONTHLY; k++) {
		const cJSON *list = pack_member(p, place, MONTHLY[k].key);
		if (!cJSON_IsArray(list) || cJSON_GetArraySize(list) != 12) {
			PACK_FAULT(p, place, "\"%s\" is not twelve numbers", MONTHLY[k].key);
			return false;
		}
		for (int m = 0; m < 12; m++)
			months[k][m] = whole(p, cJSON_GetArrayItem(list, m), MONTHLY[k].per_unit,
				MONTHLY[k].limits);
	}
	return true;
}

static void check_months(const pack *p, const cJSON *place, const int months[N_MONTHLY][12])
{
	for (int m = 0; m < 12; m++) {
		if (months[DHI][m] > months[GHI][m])
			PACK_FAULT(p, place, "month %d: more diffuse than global", m + 1);
		if (months[TEMP_MIN][m] > months[TEMP_MEAN][m] ||
			months[TEMP_MEAN][m] > months[TEMP_MAX][m])
			PACK_FAULT(p, place, "month %d: low, mean and high out of order", m + 1);
	}
}

static void add_months(const pack *p, const cJSON *place)
{
	int months[N_MONTHLY][12] = {{0}};
	if (!read_months(p, place, months))
		return;
	check_months(p, place, (const int(*)[12])months);
	for (int k = 0; k < N_MONTHLY; k++) {
		rig_buffer_add(p->out, "{");
		for (int m = 0; m < 12; m++)
			rig_buffer_format(p->out, "%d%s", months[k][m], m < 11 ? "," : "}, ");
	}
}

static void check_twice(const pack *p, const cJSON *place, const cJSON *first)
{
	for (const cJSON *other = first; other != place; other = other->next) {
		static const char *const UNIQUE[] = {"name", "station", "source_name"};
		for (int i = 0; i < 3; i++) {
			const cJSON *a = cJSON_GetObjectItemCaseSensitive(place, UNIQUE[i]);
			const cJSON *b = cJSON_GetObjectItemCaseSensitive(other, UNIQUE[i]);
			if (cJSON_IsString(a) && cJSON_IsString(b) &&
				strcmp(a->valuestring, b->valuestring) == 0)
				PACK_FAULT(p, place, "%s \"%s\" stands twice", UNIQUE[i],
					a->valuestring);
		}
	}
}

static void add_name(const pack *p, const cJSON *place, const char *name)
{
	const size_t length = strlen(name);
	if (length >= 64)
		PACK_FAULT(p, place, "a name has at most 63 bytes");
	if (length < 5 || memcmp(name + length - 4, ", ", 2) != 0)
		PACK_FAULT(p, place, "a name ends in a comma and the state's two letters");
	for (const char *c = name; *c != '\0'; c++)
		rig_buffer_format(p->out, "%d,", *c);
	rig_buffer_add(p->out, "0,\n");
}

static bool has_source_name(const cJSON *place)
{
	return cJSON_GetObjectItemCaseSensitive(place, "source_name") != NULL;
}

static void add_names(const pack *p, const cJSON *list)
{
	rig_buffer_add(p->out, "\nconst char rig_table_place_names[] = {\n");
	for (const cJSON *place = list->child; place != NULL; place = place->next) {
		add_name(p, place, pack_text(p, place, "name"));
		if (has_source_name(place))
			add_name(p, place, pack_text(p, place, "source_name"));
	}
	rig_buffer_add(p->out, "};\n");
}

/* Where the place's two names begin, which may be one. */
static void add_where_named(const pack *p, const cJSON *place, size_t *at)
{
	const size_t name = *at;
	size_t source_name = name;
	*at += strlen(pack_text(p, place, "name")) + 1;
	if (has_source_name(place)) {
		source_name = *at;
		*at += strlen(pack_text(p, place, "source_name")) + 1;
	}
	rig_buffer_format(p->out, "{%zu, %zu, ", name, source_name);
}

static void add_about(const pack *p, const cJSON *root)
{
	static const double LIMITS[2] = {0, 0.5};
	const cJSON *about = pack_member(p, root, "about");
	double scatter[3] = {0};
	rig_buffer_add(p->out, "\nconst char rig_table_places_credit[] =\n\t");
	pack_quote(p->out, pack_text(p, about, "credit"));
	const cJSON *value = pack_member(p, about, "month_scatter_frac");
	if (value != NULL && pack_figure(p, value, LIMITS, scatter)) {
		rig_buffer_add(p->out, ";\nconst rig_figure rig_table_month_scatter_frac = ");
		pack_add_figure(p->out, scatter, pack_text(p, about, "month_scatter_source"));
	}
	rig_buffer_add(p->out, ";\n");
}

void pack_places(const pack *p, const cJSON *root)
{
	const cJSON *list = pack_member(p, root, "places");
	if (!cJSON_IsArray(list) || list->child == NULL) {
		PACK_FAULT(p, root, "\"places\" is not a list with entries");
		return;
	}
	add_about(p, root);
	add_names(p, list);
	rig_buffer_add(p->out, "\nconst rig_packed_place rig_table_places[] = {\n");
	size_t name = 0;
	for (const cJSON *place = list->child; place != NULL; place = place->next) {
		pack_refuse_others(p, place, KEYS, sizeof KEYS / sizeof KEYS[0]);
		check_twice(p, place, list->child);
		add_where_named(p, place, &name);
		add_head(p, place);
		add_neighbours(p, place);
		add_months(p, place);
		rig_buffer_add(p->out, "},\n");
	}
	rig_buffer_add(p->out, "};\nconst size_t rig_table_n_places =\n"
			       "\tsizeof rig_table_places / sizeof rig_table_places[0];\n");
}
