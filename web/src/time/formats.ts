// SPDX-License-Identifier: MIT
// Formats of Intl, each made once: making one costs a phone more than all else in telling a time.

const dates = new Map<string, Intl.DateTimeFormat>();

export function date_format(locale: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = `${locale} ${JSON.stringify(options)}`;
  let format = dates.get(key);
  if (!format) {
    format = new Intl.DateTimeFormat(locale, options);
    dates.set(key, format);
  }
  return format;
}

/// Keeps what `make` makes of a locale.
export function once_a_locale<T>(make: (locale: string) => T): (locale: string) => T {
  const made = new Map<string, T>();
  return (locale) => {
    const found = made.get(locale) ?? make(locale);
    made.set(locale, found);
    return found;
  };
}
