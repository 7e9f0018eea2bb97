// What others do, on a screen that is a list one works in: it stays as it is, and the line offers to show what is new.

import { onNews } from "./news.js";
import { say, showBy } from "./news-line.js";

showBy(() => location.reload(), "Show what is new");
onNews(({ happened, isMore, isFirst }) => {
  if (!isFirst)
    say(
      happened.filter((each) => !each.is_own && each.note),
      isMore,
    );
});
