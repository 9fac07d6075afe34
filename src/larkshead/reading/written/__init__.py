"""Reading what larkshead itself has written, exactly.

Writers say everything by the templates in a convention's ``phrases``; the same templates, turned about, know each thing
again. A text in which every line is of this kind is read so, without any guessing, and gives back the pattern it was
written from. One line that is not makes the reader of running text take over: nothing here recovers or assumes.

    book     names, lengths, threads and free text
    places   where joins go
    work     elements and what is in them
    steps    actions, and steps on one line
    around   title, materials, threads, headings, notes, totals
"""
