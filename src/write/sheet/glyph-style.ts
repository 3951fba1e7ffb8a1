/** What the engraver's marks and our words need to look right, wherever they stand. */
export const NOTATION_STYLE = `.row{display:block;stroke:currentColor;fill:currentColor}
.row text{stroke:none;text-anchor:middle;font-family:"Helvetica Neue",Arial,"Liberation Sans",sans-serif}
.row .finger{font-weight:bold}`;
