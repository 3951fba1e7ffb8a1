/** Clef and signatures put together, against the engraver's own. */
import { beforeAll, expect, test } from 'vitest';
import { element } from '../../src/write/score/xml.js';
import { type Engrave, startEngraver } from '../../src/write/sheet/engrave.js';
import { glyphsOf, stripStart } from '../../src/write/sheet/slices.js';
import { type Attributes, NO_TIME, scoreXml, startOf } from '../../src/write/sheet/strip-start.js';
import { svgTree } from '../../src/write/sheet/svg-tree.js';

const CLEFS = [
  ['G', 2],
  ['F', 4],
] as const;
const TIMES = [null, [2, 2], [2, 4], [3, 4], [4, 4], [5, 4], [6, 8], [9, 8], [12, 8]] as const;

let engrave: Engrave;

beforeAll(async () => {
  engrave = await startEngraver();
});

test.each(CLEFS)(
  'with clef %s on line %d every key and time stands where the engraver puts it',
  (sign, line) => {
    for (let fifths = -7; fifths <= 7; fifths++) {
      for (const time of TIMES) {
        const attributes: Attributes = [
          element('divisions', 24),
          element('key', [element('fifths', fifths)]),
          time === null
            ? NO_TIME
            : element('time', [element('beats', time[0]), element('beat-type', time[1])]),
          element('clef', [element('sign', sign), element('line', line)]),
        ];
        const own = svgTree(engrave(scoreXml(attributes, '')));
        const { start, glyphs } = startOf(attributes, engrave);
        expect(start, `${fifths} ${time}`).toEqual(stripStart(own));
        expect(new Set(glyphs), `${fifths} ${time}`).toEqual(new Set(glyphsOf(own)));
      }
    }
  },
);
