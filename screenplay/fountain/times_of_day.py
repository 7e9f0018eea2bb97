"""The times of day that headings give, in English, French, German, Spanish and Italian, and when it is light then.

The words are those met in the trade (C, the other languages' from memory, M). They are compared in capitals and without
accents, so that DIA is DÍA and MANANA is MAÑANA.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from itertools import pairwise

from screenplay.fountain.clock_times import AT_NIGHT, AT_SOME_HOUR, BY_DAY, HOUR_WORDS, with_clock_times
from screenplay.fountain.dashes import DASHES

_LONGEST = 80  # characters
_NEVER_IN_TIMES = re.compile(rf"[^{DASHES}\w\s'’\"“”.,/&()\[\]+:?!]")
_PARENTHESES = re.compile(r"\([^()]*\)|\[[^\[\]]*\]")
_WORD = re.compile(r"[^\W_]+")
_CONTINUED = re.compile(r"\bCONT['’]?D\b")
_WEEKDAY_WITHIN = re.compile(r"\b((?:MON|DIENS|DONNERS|FREI|SAMS|SONN)TAG|MITTWOCH|SONNABEND)(?=[A-Z])")  # FREITAGABEND

# By when it is light: English, French, German, Spanish, Italian. What follows on takes its light from the scene before.
FOLLOWS_ON = "follows on"
_TIMES = {
    "day": """
        DAY DAYTIME DAYLIGHT MORNING MIDMORNING FORENOON NOON MIDDAY AFTERNOON MIDAFTERNOON LUNCHTIME TEATIME
        JOUR JOURNEE MATIN MATINEE MIDI
        TAG TAGSUBER MORGEN MORGENS VORMITTAG VORMITTAGS MITTAG MITTAGS NACHMITTAG NACHMITTAGS
        FRUHMORGENS SPATNACHMITTAG
        DIA MANANA MEDIODIA TARDE
        GIORNO GIORNATA MATTINA MATTINO MATTINATA MEZZOGIORNO POMERIGGIO
    """,
    "night": """
        NIGHT NIGHTTIME NIGHTFALL EVENING MIDNIGHT TONIGHT OVERNIGHT BEDTIME SMALL-HOURS WEE-HOURS
        NUIT SOIR SOIREE MINUIT TOMBEE-DE-LA-NUIT
        NACHT NACHTS ABEND ABENDS SPATABEND SPATABENDS MITTERNACHT
        NOCHE MEDIANOCHE MADRUGADA
        NOTTE NOTTATA SERA SERATA MEZZANOTTE
    """,
    "dawn": """
        DAWN PREDAWN SUNRISE SUNUP DAYBREAK FIRST-LIGHT
        AUBE AURORE LEVER-DU-SOLEIL LEVER-DE-SOLEIL LEVER-DU-JOUR POINT-DU-JOUR PREMIERES-LUEURS PREMIERE-LUEUR
        MORGENGRAUEN MORGENDAMMERUNG SONNENAUFGANG TAGESANBRUCH ERSTES-LICHT
        AMANECER ALBA SALIDA-DEL-SOL PRIMERA-LUZ PRIMERAS-LUCES
        AURORA SORGERE-DEL-SOLE PRIME-LUCI PRIMA-LUCE ALL-ALBA
    """,
    "dusk": """
        DUSK SUNSET SUNDOWN TWILIGHT GLOAMING LAST-LIGHT
        CREPUSCULE COUCHER-DU-SOLEIL COUCHER-DE-SOLEIL TOMBEE-DU-JOUR
        DAMMERUNG ABENDDAMMERUNG SONNENUNTERGANG LETZTES-LICHT
        ATARDECER ANOCHECER CREPUSCULO OCASO PUESTA-DEL-SOL PUESTA-DE-SOL ULTIMA-LUZ
        TRAMONTO CREPUSCOLO IMBRUNIRE CALAR-DEL-SOLE ULTIME-LUCI
    """,
    "": """
        MAGIC-HOUR GOLDEN-HOUR BLUE-HOUR RUSH-HOUR
        HEURE-MAGIQUE HEURE-DOREE HEURE-BLEUE
        MAGISCHE-STUNDE GOLDENE-STUNDE BLAUE-STUNDE
        HORA-MAGICA HORA-DORADA HORA-AZUL
        ORA-MAGICA ORA-D-ORO ORA-BLU
        LENDEMAIN
    """,
    FOLLOWS_ON: """
        CONTINUOUS CONTINUOUSLY CONTINUED CONTINUING CONT LATER EARLIER SAME SIMULTANEOUS MEANWHILE MOMENTS-BEFORE
        MOMENTS-AFTER IMMEDIATELY-AFTER RIGHT-AFTER STRAIGHT-AFTER SHORTLY-AFTER
        CONTINU CONTINUE PLUS-TARD PLUS-TOT MEME-MOMENT MEME-TEMPS MEME-INSTANT APRES AVANT AUPARAVANT
        SANS-TRANSITION DANS-LA-FOULEE DANS-LA-CONTINUITE
        FORTLAUFEND FORTSETZUNG SPATER FRUHER GLEICHZEITIG DARAUF DANACH ANSCHLIESSEND GLEICHEN-ZEIT GLEICHE-ZEIT
        ZUVOR VORHER KURZ-DAVOR MINUTEN-DAVOR STUNDEN-DAVOR TAGE-DAVOR
        CONTINUO CONTINUA CONTINUACION CONTINUIDAD ACTO-SEGUIDO SIN-TRANSICION
        MAS-TARDE LUEGO DESPUES ANTES MISMO-TIEMPO MISMO-MOMENTO
        CONTINUAZIONE CONTINUITA CONTEMPORANEA CONTEMPORANEAMENTE SENZA-STACCO
        PIU-TARDI DOPO STESSO-MOMENTO POCO-PRIMA ATTIMO-PRIMA ATTIMI-PRIMA ISTANTE-PRIMA ISTANTI-PRIMA
        MOMENTO-PRIMA MOMENTI-PRIMA MINUTI-PRIMA ORA-PRIMA ORE-PRIMA GIORNI-PRIMA ANNI-PRIMA
    """,
}
# What goes with them: EARLY MORNING, THE NEXT DAY, TWO WEEKS LATER, LE LENDEMAIN MATIN, AM NÄCHSTEN TAG.
_GOING_WITH_TIMES = """
    A AN AND AT BEFORE AFTER DURING FOR FROM IN INTO OF ON PAST PRE THAT THE THEN THIS TO TOWARD TOWARDS UNTIL
    ACTION ANOTHER BREAK BRIGHT BROAD CRACK DEAD EARLY END FEW FIRST FOLLOWING HALF HIGH JUST LAST LATE LITTLE MID
    MIDDLE NEW NEXT NOW OTHER OVERCAST PREVIOUS PRIOR QUARTER SEVERAL SHORT SHORTLY SMALL SOME STILL WHILE
    MOMENT MOMENTS SECOND SECONDS MINUTE MINUTES HOUR HOURS DAYS NIGHTS WEEK WEEKS MONTH MONTHS YEAR YEARS TIME
    MONDAY TUESDAY WEDNESDAY THURSDAY FRIDAY SATURDAY SUNDAY SPRING SUMMER AUTUMN FALL WINTER
    JANUARY FEBRUARY MARCH APRIL MAY JUNE JULY AUGUST SEPTEMBER OCTOBER NOVEMBER DECEMBER
    L D LE LA LES DU DE DES AU AUX EN DANS PENDANT VERS PLEIN PLEINE DEBUT FIN MILIEU PETIT GRAND VEILLE UN UNE
    SUIVANT SUIVANTE PLUS TARD TOT MEME QUELQUES PEU JUSTE AUSSITOT PILE INSTANT INSTANTS SECONDES HEURE HEURES JOURS
    SEMAINE SEMAINES MOIS AN ANS LUNDI MARDI MERCREDI JEUDI VENDREDI SAMEDI DIMANCHE
    AM BEI IM TIEF DER DIE DAS DEN DEM EIN EINE EINEN EINIGE PAAR NACHSTE NACHSTEN NACHSTER SELBE SELBEN GLEICHE
    GLEICHEN FRUHE FRUHEN FRUH SPAT SPATE SPATEN SPATER KURZ KURZE WENIG WENIGE ZEIT ZUR AUGENBLICK AUGENBLICKE
    MOMENTE MINUTEN STUNDE STUNDEN TAGE WOCHE WOCHEN MONATE JAHR JAHRE
    UNMITTELBAR DIREKT SOFORT GLEICH HALB VIERTEL VOR NACH
    MONTAG DIENSTAG MITTWOCH DONNERSTAG FREITAG SAMSTAG SONNABEND SONNTAG
    EL LOS LAS DEL AL POR HACIA MISMO MISMA SIGUIENTE POCO PRINCIPIO FINAL MOMENTO MOMENTOS INSTANTE INSTANTES SEGUNDOS
    MINUTOS HORA HORAS DIAS SEMANA SEMANAS MESES ANO ANOS UNOS UNAS MAS PRIMERA ULTIMA
    JUSTO INMEDIATAMENTE LUNES MARTES MIERCOLES JUEVES VIERNES SABADO DOMINGO
    IL LO I GLI UNO UNA QUALCHE POCHI POCHE ISTANTE ISTANTI MOMENTI DI DELLA DELLO DEL VERSO PRIMO PRIMA
    TARDO TARDA STESSO STESSA SEGUENTE SUCCESSIVO ATTIMO ATTIMI SECONDI MINUTI ORA ORE GIORNI SETTIMANA SETTIMANE MESI
    ANNO ANNI INIZIO FINE FONDA
    SUBITO IMMEDIATAMENTE LUNEDI MARTEDI MERCOLEDI GIOVEDI VENERDI SABATO DOMENICA
"""
_FEW_WORDS = re.compile(r"\s*[\w'’]{1,20}(?: [\w'’]{1,20}){1,2}\s*")
# What it is like stands before the time in English and German, after it in French, Spanish and Italian.
_ENDING_IN = """
    DAY NIGHT MORNING AFTERNOON EVENING DAWN DUSK SUNRISE SUNSET TAG NACHT MORGEN ABEND NACHMITTAG
"""
_BEGINNING_WITH = """
    JOUR NUIT MATIN SOIR DIA NOCHE MANANA TARDE GIORNO NOTTE MATTINA MATTINO POMERIGGIO SERA
"""

_LIGHT = {word: light for light, listed in _TIMES.items() for word in listed.split()}
_LIGHT |= {AT_NIGHT: "night", BY_DAY: "day", AT_SOME_HOUR: ""}
_PHRASES = re.compile(r"\b(?:" + "|".join(word.replace("-", " ") for word in _LIGHT if "-" in word) + r")\b")
_GOING_WITH = frozenset(_GOING_WITH_TIMES.split()) | HOUR_WORDS.keys()


def is_time_of_day(part: str) -> bool:
    """Whether a part of a heading is a time of day, with what may go with it: `EARLY MORNING`, `DAY 2`, `3 A.M.`."""
    return len(part) <= _LONGEST and _is_time(part)


@lru_cache(maxsize=1024)
def _is_time(part: str) -> bool:
    words = [] if _NEVER_IN_TIMES.search(part) else _words(part)
    return any(word in _LIGHT for word in words) and all(
        word in _LIGHT or word in _GOING_WITH or word[0].isdigit() for word in words
    )


def is_like_a_time_of_day(part: str) -> bool:
    """Whether a part of a heading is a time of day in two or three words, of which others say what it is like: `RAINY
    NIGHT`, `FREITAG ABEND`, `NUIT NOIRE`.

    An English part that only begins with one is none, `NIGHT MARKET`; nor is a French one that ends in it, `SALLE DE
    JOUR`.
    """
    if not _FEW_WORDS.fullmatch(part):
        return False
    words = _plain(part).split()
    return words[-1] in _ENDING_IN.split() or words[0] in _BEGINNING_WITH.split()


def is_plainly_a_time_of_day(word: str) -> bool:
    """Whether a word by itself is one of the commonest times of day: `NIGHT`, `JOUR`."""
    return _plain(word.strip()) in f"{_ENDING_IN} {_BEGINNING_WITH}".split()


def light_of(time: str) -> str:
    """When it is light, by a heading's time of day: day, night, dawn, dusk, FOLLOWS_ON where it takes that from the
    scene before (C), or "" where it does not say. Of `DAY 3 - NIGHT` the first is a day of the story (C)."""
    words = _words(time)
    lights = [_LIGHT[word] for word in words if word in _LIGHT]
    said = [light for light in lights if light != FOLLOWS_ON]
    if any(_LIGHT.get(word) == "day" and after.isdecimal() for word, after in pairwise(words)):
        said = [light for light in said if light not in {"day", ""}] or said
    return next(filter(None, said), "") if said or not lights else FOLLOWS_ON


def _words(part: str) -> list[str]:
    """The words of a part in capitals and without accents, a phrase or a time by the clock as one of them."""
    text = _CONTINUED.sub("CONTINUED", _PARENTHESES.sub(" ", _plain(part)))
    text = " ".join(_WORD.findall(_WEEKDAY_WITHIN.sub(r"\1 ", with_clock_times(text))))
    return _PHRASES.sub(lambda phrase: phrase[0].replace(" ", "-"), text).split()


def _plain(text: str) -> str:
    if text.isascii():
        return text.upper()
    return "".join(sign for sign in unicodedata.normalize("NFKD", text.upper()) if not unicodedata.combining(sign))
