package app

func (a *App) dataPage(DataPageAsk) (DataPage, *Error) { return DataPage{}, errUnbuilt }

func (a *App) lookData(Nothing) (DataView, *Error) { return DataView{}, errUnbuilt }
