/* SPDX-License-Identifier: GPL-3.0-or-later */
/* svg.h: the canvas that writes SVG: fixed decimals, escaped texts, nothing random, so that the
 * same chart is the same bytes. Shapes carry their light colours and a class each (s0 .. strokes,
 * f0 .. fills, by rig_ink), so that a page can give them others in the dark. */
#ifndef REPORT_SVG_H
#define REPORT_SVG_H

#include "base/buffer.h"
#include "canvas.h"

typedef struct {
	rig_buffer *out;
	const char *id;   /* of this picture in its page: letters, digits, hyphens */
	const char *kind; /* class of the picture; "" for none */
	bool alone;       /* a file of its own: with a size and a white ground */
	bool in_group;    /* at first false */
} rig_svg;

rig_canvas rig_svg_canvas(rig_svg *svg);

#endif
