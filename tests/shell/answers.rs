//! What the tables look like, at a fixed width.

use super::Home;

#[test]
fn an_evening_is_a_review_of_the_season() {
    insta::assert_snapshot!(Home::new().in_garden(&["evening"]), @r"
    Saltmarsh: season 2026, seen on 3 Nov 2026

    due
      1  head to cut          oldest pollinated 40 days ago                  the frost came on 28 Oct
      3  plants to decide on  oldest opened 81 days ago
      1  plant not in flower  oldest planted 158 days ago    held over, 5 % (0–19) are kept, as usual
      3  plants to lift                                                      the frost came on 28 Oct

    the seed of 2026          plants  share  95 % range  usual  2025
    seeds sown                    67                               8
    came up, of those sown        52   78 %       66–86   82 %     6
    planted, of those sown        36   54 %       42–65   75 %     4
    opened, of those planted      30   83 %       68–92   82 %     3
    judged, of those opened       22   73 %       56–86            2
    kept, of those judged          5   23 %       10–43   40 %     1

    heads pollinated in 2026: 2, of which 0 ripe with 0 seeds, 1 empty, 0 rotted, 0 lost, 1 still
    hanging
    1 head hanging, the oldest 40 days; 2 packets in the tin with 22 seeds, the oldest 2 years

    7 plants wait for you: 1 undecided, 1 with looks that disagree, 1 held, 1 not seen in bloom, 3 kept
    and not lifted
    plant      colour       why
    26-02                   bloomed 30 Sep 2026, no verdict yet
    26-10                   two looks disagree: form 8 and 4
    26-12                   bloomed 18 Aug 2026, held 21 Oct 2026
    26-03                   not in bloom on 15 Sep 2026; held over, 5 % (0–19) are kept, as usual
    25-01      apricot      kept, and not lifted yet
    Gull Song               kept, and not lifted yet
    26-01      white, pink  kept, and not lifted yet

    1 numbered plant kept for the first time
    plant  colour       seed parent × pollen parent  opened           planted
    26-01  white, pink  Tide Pool × Ferry Lantern    14 Sep 2026  29 May 2026

    the pairings behind the keepers of 2026
    pairing                    kept of judged  in all seasons  forecast  90 % range
    Heron’s Reach × ?                 4 of 20         4 of 20      26 %       10–46
    Ferry Lantern × Tide Pool          1 of 1          2 of 3      41 %       14–74

    first bloom in the first season, over all seasons: days from planting
    seedlings   opened  half were open after  95 % range
    all        8 of 10               93 days      77–124
    if all beds were alike, chance alone would make them differ this much 11 % of the time
    if all pairings were alike, chance alone would make them differ this much 3 % of the time
    ");
}

#[test]
fn an_evening_of_a_past_season_tells_nothing_that_came_later() {
    insta::assert_snapshot!(Home::new().in_garden(&["evening", "--season", "2025"]), @r"
    Saltmarsh: season 2025, seen on 3 Nov 2026

    the seed of 2025          plants  share  95 % range  usual  2024
    seeds sown                     8                               0
    came up, of those sown         6   75 %       41–93   82 %     0
    planted, of those sown         4   50 %       22–78   75 %     0
    opened, of those planted       3   75 %       30–95   82 %     0
    judged, of those opened        2   67 %       21–94            0
    kept, of those judged          1   50 %        9–91   40 %     0

    1 plant waits for you: 1 held
    plant      why
    Gull Song  bloomed 9 Sep 2025, held 25 Oct 2025: stem may firm up

    1 numbered plant kept for the first time
    plant  colour   seed parent × pollen parent  opened           planted
    25-01  apricot  Ferry Lantern × Tide Pool    14 Aug 2025  29 May 2025

    the pairings behind the keepers of 2025
    pairing                    kept of judged  in all seasons  forecast  90 % range
    Ferry Lantern × Tide Pool          1 of 2          2 of 3      41 %       14–74
    ");
}

#[test]
fn crosses_are_lines_from_heads_to_keepers() {
    insta::assert_snapshot!(Home::new().in_garden(&["crosses"]), @r"
    5 crosses: what became of each
    cross  seed parent × pollen …  heads  seeds  sown  planted  kept of judged         95 % range
    24X01  Ferry Lantern × Tide …      2     12    10        4          1 of 2   50 %        9–91
    25X01  Tide Pool × Ferry Lan…             5     5        3          1 of 1  100 %      21–100
    25X02  25-01 × Ferry Lantern…            30    10        3          0 of 1    0 %        0–79
    OLD    Heron’s Reach × ?                       50       30         4 of 20   20 %        8–42
    26X01  Ferry Lantern selfed        2                                     –
    left out for want of room: season, rotted, up, opened
    ");
}

#[test]
fn the_tin_holds_the_packets_with_seed_left() {
    insta::assert_snapshot!(Home::new().in_garden(&["seed"]), @r"
    2 packets in the tin, 22 seeds left
    packet   seed parent × pollen …  season  years old  seeds  sown  left  should come up  90 % range
    24X01-a  Ferry Lantern × Tide …    2024          2     12    10     2               2         0–2
    25X02-a  25-01 × Ferry Lantern…    2025          1     30    10    20              15       11–19
    left out for want of room: up
    ");
}

#[test]
fn a_bed_is_listed_row_by_row_and_the_rest_after_it() {
    insta::assert_snapshot!(Home::new().in_garden(&["bed"]), @r"
    6 plants in 2 beds in 2026, row by row

    Bed A: 12 places in 2 rows, 5 planted
    row  place  plant      stands     colour
      1      1  26-01      kept       white, pink
      1      2  26-02      open
      1      3  26-03      unbloomed               held over, 5 % (0–19) are kept, as usual
      2      1  25-01      kept       apricot
      2      2  Gull Song  named

    Bed N/S: 4 places in 1 row, 1 planted
    row  place  plant  stands
      1      1  26-10  open

    2 more were planted, and nobody wrote where
    plant  stands
    26-11  discarded
    26-12  held
    ");
}

#[test]
fn a_bed_of_a_past_season_shows_how_its_plants_stood_then() {
    insta::assert_snapshot!(Home::new().in_garden(&["bed", "a", "--season", "2025"]), @r"
    4 plants in 1 bed in 2025, row by row

    Bed A: 12 places in 2 rows, 4 planted
    row  place  plant      stands     colour
      1      1  25-01      kept       apricot
      1      2  25-02      discarded
      1      3  Gull Song  held
      1      4  25-04      lost
    ");
}

#[test]
fn a_trace_leads_back_and_forth_and_says_where_it_is_not_sure() {
    insta::assert_snapshot!(Home::new().in_garden(&["trace", "id:25-01"]), @r"
    25-01: 2 plants that it came from, 3 that came from it
    raised from Ferry Lantern × Tide Pool

    generations back  plant          on the side of the
                   1  Ferry Lantern  seed parent
                   1  Tide Pool      pollen parent

    generations on  plant  raised from
                 1  26-10  25-01 × Ferry Lantern or Heron’s Reach
                 1  26-11  25-01 × Ferry Lantern or Heron’s Reach
                 1  26-12  25-01 × Ferry Lantern or Heron’s Reach

    comes in the end from  share
    Ferry Lantern           50 %
    Tide Pool               50 %
    ");
    insta::assert_snapshot!(Home::new().in_garden(&["trace", "26-10"]), @r"
    26-10: 4 plants that it came from, 0 that came from it
    raised from 25-01 × Ferry Lantern or Heron’s Reach
    inbred 60 % as much as the offspring of a full brother and sister (F 0.021)

    generations back  plant          on the side of the  raised from
                   1  25-01          seed parent         Ferry Lantern × Tide Pool
                   1  Heron’s Reach  pollen parent                                  perhaps
                   1  Ferry Lantern  both
                   2  Tide Pool      seed parent

    comes in the end from  share
    Ferry Lantern           55 %
    Tide Pool               25 %
    Heron’s Reach           20 %
    ");
}

#[test]
fn sibs_stand_side_by_side_above_their_means() {
    insta::assert_snapshot!(Home::new().in_garden(&["sibs", "26-01"]), @r"
    26-01, raised from Tide Pool × Ferry Lantern, and 11 sibs
    kept 2 of 3 judged, 67 %, 95 % range 21–94
    plant       kin                  stands     bloom mm  height cm  first bloom  scores
    26-01                            kept            130             14 Sep 2026  form 8
    25-01       full                 kept            110        120  14 Aug 2025  form 7
    25-02       full                 discarded        90        100  30 Aug 2025
    Gull Song   full                 named                           9 Sep 2025
    25-04       full                 lost
    26-02       full                 open                            30 Sep 2026
    26-03       full                 unbloomed
    Lost Cause  half, Ferry Lantern  lost
    26-10       half, Ferry Lantern  open                            14 Aug 2026  form 6, stem 6
    26-11       half, Ferry Lantern  discarded                       17 Aug 2026
    26-12       half, Ferry Lantern  held                            18 Aug 2026
    25-01/self  half, Ferry Lantern  potted

    mean of                       family  plants  programme
    bloom, mm                        110       3        110
    first bloom, day of the year     250       5      241.9
    form                             7.5       2          7
    height, cm                       110       2        110
    ");
}

#[test]
fn parents_are_told_by_what_they_gave_in_each_role() {
    insta::assert_snapshot!(Home::new().in_garden(&["parents"]), @r"
    4 parents and what each gave: of their judged seedlings, those kept at the first sorting
    parent       seed parent         95 % range  pollen parent         95 % range  passes on  90 % range
    Ferry Lant…       1 of 2   50 %        9–91         1 of 1  100 %      21–100       35 %       12–66
    Heron’s Re…      4 of 20   20 %        8–42              –                          32 %       11–59
    Tide Pool         1 of 1  100 %      21–100         1 of 2   50 %        9–91       36 %       12–67
    25-01             0 of 1    0 %        0–79              –                          37 %       13–68
    left out for want of room: perhaps in
    passes on: the share of its seedlings that would be kept with an average partner in an average
    season

    How far that can be told: of the differences between plants of one season and bed, the share that
    comes by descent
    trait       measured of bloomed  families
    bloom, mm                3 of 8         1
    height, cm               2 of 8         1
    form                     3 of 8         0
    stem                     1 of 8         0
    Not enough yet to tell of bloom, mm; height, cm; form; stem: 30 measured plants are wanted, of 5
    families with two or more of them.
    ");
}

#[test]
fn pairings_are_one_line_for_both_directions_unless_split() {
    insta::assert_snapshot!(Home::new().in_garden(&["pairings"]), @r"
    4 pairings, the best first: of their judged seedlings, those kept at the first sorting
    pairing                   seasons  kept of judged  steadied  90 % range  forecast  90 % range
    Ferry Lantern × Tide …  2024–2025          2 of 3      46 %       25–68      41 %       14–74
    Ferry Lantern selfed         2026               –      40 %       17–66      36 %        1–90
    25-01 × Ferry Lantern…       2025          0 of 1      36 %       15–61      34 %        8–68
    Heron’s Reach × ?            2025         4 of 20      27 %       15–41      26 %       10–46
    left out for want of room: 95 % range
    steadied: drawn towards what the other pairings of this book do, the more the fewer seedlings were
    judged
    forecast: of new seedlings in an average season, from the pair's own record, its parents with other
    partners, and their kin
    ");
    insta::assert_snapshot!(Home::new().in_garden(&["pairings", "--split"]), @r"
    5 pairings, the best first: of their judged seedlings, those kept at the first sorting
    pairing                 seasons  kept of judged  steadied  90 % range  forecast  90 % range
    Tide Pool × Ferry Lan…     2025          1 of 1      45 %       22–70      41 %       13–77
    Ferry Lantern × Tide …     2024          1 of 2      42 %       20–65      38 %       12–72
    Ferry Lantern selfed       2026               –      40 %       17–66      36 %        1–91
    25-01 × Ferry Lantern…     2025          0 of 1      36 %       15–61      35 %        8–69
    Heron’s Reach × ?          2025         4 of 20      27 %       15–41      26 %       10–46
    left out for want of room: 95 % range
    steadied: drawn towards what the other pairings of this book do, the more the fewer seedlings were
    judged
    forecast: of new seedlings in an average season, from the pair's own record, its parents with other
    partners, and their kin
    ");
}

#[test]
fn a_narrow_terminal_gets_cut_names_and_whole_numbers() {
    let home = Home::new();
    let narrow = home
        .trug()
        .env("COLUMNS", "72")
        .arg("--book")
        .arg(super::garden())
        .arg("pairings")
        .assert();
    let text = String::from_utf8(narrow.success().get_output().stdout.clone()).unwrap();
    insta::assert_snapshot!(text, @r"
    4 pairings, the best first: of their judged seedlings, those kept at the
    first sorting
    pairing       kept of judged  steadied  90 % range  forecast  90 % range
    Ferry Lante…          2 of 3      46 %       25–68      41 %       14–74
    Ferry Lante…               –      40 %       17–66      36 %        1–90
    25-01 × Fer…          0 of 1      36 %       15–61      34 %        8–68
    Heron’s Rea…         4 of 20      27 %       15–41      26 %       10–46
    left out for want of room: seasons, 95 % range
    steadied: drawn towards what the other pairings of this book do, the
    more the fewer seedlings were judged
    forecast: of new seedlings in an average season, from the pair's own
    record, its parents with other partners, and their kin
    ");
}
