/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sheet.h: the style sheet of a report, sheet.css, made into a constant by the build. */
#ifndef REPORT_SHEET_H
#define REPORT_SHEET_H

extern const char rig_sheet_css[];

#endif
