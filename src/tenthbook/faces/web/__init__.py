"""The pages: parse, call one function, show; every form works without JavaScript.

- `urls` and `views`: the list of jobs, and the first page of a job with its one armed field;
- `showing`: from verdicts to finished strings and drawings: a template never formats a measured number;
- `where_views`, with `where_showing` and `gates_showing`: where was I, the form that puts the work down, the gates;
- `do_views`, with `do_forms` and `do_known`: any act that is told by its fields alone, by a form made from them;
- `record_views`, with `record_showing`, and `acting`: the record, its forms, and what every page that records shares;
- `security`: the headers of every answer: nothing from elsewhere, no script, no frame;
- `settings`: Django's settings for the pages, on those of the store;
- `server`: the pages behind a threaded server on this machine's own address.

Enter takes the reading and arms the next field; it never decides what becomes of a part. A form carries its own
request id, so that a doubled press is recorded once, and the head its reader saw.
"""
