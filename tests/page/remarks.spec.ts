import { expect, test } from '@playwright/test';

import { Unfit } from '../../www/src/keep/check.ts';
import { moment } from '../../www/src/keep/entry.ts';
import { History } from '../../www/src/keep/history.ts';
import type { Label } from '../../www/src/keep/label.ts';
import { carried, merged, NO_REMARKS, readRemarks, type Remarks } from '../../www/src/keep/remarks.ts';

function label(id: string, text: string, when = '2026-06-14T22:41:05+01:00'): Label {
  return { id, when, about: [], text, certainty: 'sure', note: '', who: 'Ann' };
}

function remarks(...labels: Label[]): Remarks {
  return { ...NO_REMARKS, labels };
}

test.describe('a history', () => {
  test('goes back and forth, and says what it would do', () => {
    const none = History.of(0);
    expect([none.undoes, none.redoes]).toEqual([null, null]);
    const two = none.with(1, 'one').with(2, 'two');
    expect([two.present, two.undoes, two.redoes]).toEqual([2, 'two', null]);
    const back = two.undo();
    expect([back.present, back.undoes, back.redoes]).toEqual([1, 'one', 'two']);
    expect(back.redo().present).toBe(2);
    expect(back.undo().undo().present).toBe(0);
    expect(two.present).toBe(2);
  });

  test('forgets what was taken back once something else is done', () => {
    const other = History.of(0).with(1, 'one').undo().with(5, 'five');
    expect([other.present, other.redoes, other.redo().present]).toEqual([5, null, 5]);
  });

  test('takes no step where nothing changes', () => {
    const one = History.of(1);
    expect(one.with(1, 'nothing')).toBe(one);
  });

  test('is bounded', () => {
    let long = History.of(0);
    for (let n = 1; n <= 1000; n += 1) {
      long = long.with(n, String(n));
    }
    let steps = 0;
    while (long.undoes !== null) {
      long = long.undo();
      steps += 1;
    }
    expect(steps).toBe(200);
    expect(long.present).toBe(800);
  });

  test('leaves alone what another page did in between', () => {
    const mine = History.of(remarks(), carried).with(remarks(label('a', 'mine')), 'label');
    const both = mine.renewed(remarks(label('a', 'mine'), label('b', 'theirs')));
    expect(both.undo().present).toEqual(remarks(label('b', 'theirs')));
    expect(both.undo().redo().present.labels.map(({ id }) => id).toSorted()).toEqual(['a', 'b']);
  });
});

test.describe('remarks', () => {
  test('a change is brought to what others changed', () => {
    const before = remarks(label('a', 'one'), label('b', 'two'));
    const after = remarks(label('a', 'one, changed'), label('c', 'three'));
    const theirs = remarks(label('a', 'one'), label('b', 'two'), label('d', 'four'));
    expect(carried(theirs, before, after)).toEqual(
      remarks(label('a', 'one, changed'), label('d', 'four'), label('c', 'three')),
    );
  });

  test('of two entries with one id the later wins, wherever its clock stood', () => {
    const here = remarks(label('a', 'here', '2026-06-14T22:00:00+02:00'), label('b', 'here', '2026-06-14T22:00:00Z'));
    const coming = remarks(
      label('a', 'coming', '2026-06-14T20:30:00Z'),
      label('b', 'coming', '2026-06-14T22:30:00+01:00'),
      label('c', 'coming'),
    );
    const { remarks: all, ...counts } = merged(here, coming);
    expect(all.labels.map(({ text }) => text)).toEqual(['coming', 'here', 'coming']);
    expect(counts).toEqual({ added: 1, updated: 1, stayed: 1 });
  });

  test('what is no set of remarks is refused in a sentence', () => {
    const bad: [unknown, RegExp][] = [
      [null, /no set of fields/],
      [{ labels: {} }, /no list/],
      [{ labels: [{ ...label('a', 'x'), certainty: 'certain' }] }, /none of "sure", "probable", "possible"/],
      [{ labels: [{ ...label('a', 'x'), when: 'yesterday' }] }, /no moment/],
      [{ labels: [{ ...label('a', 'x'), text: 'x'.repeat(201) }] }, /201 characters; at most 200/],
      [{ labels: [label('a', 'x'), label('a', 'y')] }, /the same id/],
      [
        { labels: [{ ...label('a', 'x'), about: [{ name: '1', channel: 0, start_s: -1, end_s: 1, expansion: 1 }] }] },
        /start_s of a pulse .* is no number/,
      ],
    ];
    for (const [value, words] of bad) {
      expect(() => readRemarks(value, 'recording 1')).toThrow(Unfit);
      expect(() => readRemarks(value, 'recording 1')).toThrow(words);
    }
    expect(readRemarks({ labels: [{ ...label('a', 'x'), later: 1 }] }, 'recording 1')).toEqual(remarks(label('a', 'x')));
    expect(readRemarks({}, 'recording 1')).toEqual(NO_REMARKS);
  });
});

test('a moment is the clock on the wall with its distance from UTC', () => {
  const date = new Date('2026-06-14T21:41:05.700Z');
  const text = moment(date);
  expect(text).toMatch(/^2026-06-1[345]T\d\d:\d\d:05[+-]\d\d:\d\d$/);
  expect(Date.parse(text)).toBe(Date.parse('2026-06-14T21:41:05Z'));
});
