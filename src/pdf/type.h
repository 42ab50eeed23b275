/* SPDX-License-Identifier: GPL-3.0-or-later */
/* type.h: the faces and inks of a printed sheet, and a text set in one of them. Lengths are points,
 * 1/72 inch. */
#ifndef PDF_TYPE_H
#define PDF_TYPE_H

#include <pango/pangocairo.h>
#include <stdbool.h>

typedef enum {
	RIG_STYLE_TITLE,
	RIG_STYLE_SUBTITLE,
	RIG_STYLE_PART,    /* heading of level 2 */
	RIG_STYLE_SECTION, /* heading of level 3, caption, head of a list */
	RIG_STYLE_QUESTION,
	RIG_STYLE_VERDICT,
	RIG_STYLE_BODY,
	RIG_STYLE_BRIEF, /* as body, verdict and question, in the summary */
	RIG_STYLE_BRIEF_QUESTION,
	RIG_STYLE_BRIEF_VERDICT,
	RIG_STYLE_QUIET,
	RIG_STYLE_CELL,
	RIG_STYLE_HEAD, /* of a column */
	RIG_STYLE_FOOT,
	RIG_STYLE_CAUTION, /* head of a caution */
	RIG_STYLE_LABEL,   /* in a chart, which gives the size */
	RIG_STYLE_GAP,     /* an empty line between two runs */
	RIG_N_STYLES
} rig_style;

typedef enum {
	RIG_TONE_INK,
	RIG_TONE_QUIET,
	RIG_TONE_RULE,
	RIG_TONE_HAIR,
	RIG_TONE_WARN,
	RIG_TONE_WASH, /* behind cautions */
	RIG_N_TONES
} rig_tone;

void rig_tone_use(cairo_t *cairo, rig_tone tone);

/* A context whose measures do not depend on any screen; NULL if no font is installed. To be given
 * back with g_object_unref. */
PangoContext *rig_type_context(void);

/* The font of a style. To be freed with pango_font_description_free. */
PangoFontDescription *rig_type_font(rig_style style);
double rig_type_size(rig_style style);

/* A stretch of a text in one style. */
typedef struct {
	rig_style style;
	const char *text;
	bool on_new_line; /* with a little space above */
} rig_type_run;

/* A layout of a text in its styles and inks, broken to a width; < 0 does not break. Characters that
 * steer the direction of writing are spelt out. NULL when memory is out. */
PangoLayout *rig_type_set_runs(
	PangoContext *context, size_t n, const rig_type_run *runs, double width);
/* The same for a text in one style. */
PangoLayout *rig_type_set(PangoContext *context, rig_style style, const char *text, double width);

/* Width of the text on one line, and of its widest word. */
double rig_type_width(PangoContext *context, rig_style style, const char *text);
double rig_type_word_width(PangoContext *context, rig_style style, const char *text);

#endif
